package ferrule.competency;

import ferrule.people.Person;
import java.time.Instant;
import java.util.UUID;

/** Withdrawals of prior learning, for tests outside this package. */
public final class Withdrawals {

  private Withdrawals() {}

  /** Withdraws a grant that has not been withdrawn. */
  public static void withdraw(EquivalenceStore store, UUID grant, Person by, Instant at) {
    if (!store.withdraw(store.find(grant).orElseThrow(), "It was another person's.", by, at)) {
      throw new AssertionError("the grant had been withdrawn before");
    }
  }
}
