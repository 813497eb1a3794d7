package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.store.Database;
import ferrule.store.RealDatabases;
import java.util.List;
import org.junit.jupiter.api.Test;

class RandomHistoryIT {

  private static final long SEED = 1;

  @Test
  void aHistoryHasEverythingThatMakesReportsHardAndIsTheSameForTheSameSeed() {
    try (Database database = RealDatabases.h2(); Database another = RealDatabases.h2()) {
      RawRecords raw = RandomHistory.of(database, SEED).raw();
      assertTrue(raw.signed.stream().anyMatch(s -> s.corrects().isPresent()));
      assertTrue(raw.signed.stream().anyMatch(s -> s.grade().secondSignature()));
      assertTrue(raw.memberships.stream().anyMatch(m -> m.leftOn().isPresent()));
      for (List<?> facts : List.of(
          raw.withdrawn, raw.seconded, raw.gradedBlind, raw.asked, raw.set, raw.answered, raw.regraded, raw.hours,
          raw.granted, raw.grantsWithdrawn, raw.moves)) {
        assertFalse(facts.isEmpty());
      }
      RawRecords again = RandomHistory.of(another, SEED).raw();
      assertEquals(
          raw.signed.stream().map(RawRecords.Signed::at).toList(),
          again.signed.stream().map(RawRecords.Signed::at).toList());
      assertEquals(
          raw.regraded.stream().map(RawRecords.Regraded::credit).sorted().toList(),
          again.regraded.stream().map(RawRecords.Regraded::credit).sorted().toList());
    }
  }
}
