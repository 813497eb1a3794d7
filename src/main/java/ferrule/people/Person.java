package ferrule.people;

import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

/**
 * Someone with an account.
 *
 * @param id never changes
 * @param signInName what they type to sign in, unique
 * @param fullName as it stands on a record
 * @param role what they do in the programme
 * @param leftOn the day they left, if they did; someone who left cannot sign in
 */
public record Person(UUID id, String signInName, String fullName, Role role, Optional<LocalDate> leftOn) {

  /** Checks that the names are not blank. */
  public Person {
    if (signInName.isBlank() || fullName.isBlank()) {
      throw new IllegalArgumentException("a person needs a name to sign in with and a full name");
    }
  }

  /** Whether this person still belongs to the programme. */
  public boolean isPresent() {
    return leftOn.isEmpty();
  }
}
