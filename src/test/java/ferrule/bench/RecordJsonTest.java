package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.ledger.Statement;
import java.time.Instant;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class RecordJsonTest {

  private static final Instant AT = Instant.parse("2026-11-25T18:30:00.250Z");

  @Test
  void everyKindOfRecordComesBackAsItWasWritten() {
    UUID apprentice = UUID.randomUUID();
    BenchRecord.SignOff signOff = Samples.signOff(apprentice, UUID.randomUUID(), "T-07", AT);
    Signature other = new Signature(UUID.randomUUID(), "Another „Instructor“ \ud83c\udfba", AT.plusSeconds(60));
    BenchRecord correction =
        new BenchRecord.Correction(
            UUID.randomUUID(), signOff.id(), UUID.randomUUID(), "Read the wrong\nscale.",
            Samples.soundGrade(apprentice, "T-07"), other, "0123456789ab");
    BenchRecord withdrawal =
        new BenchRecord.Withdrawal(
            UUID.randomUUID(), correction.id(), "Not this apprentice's work.", apprentice, "Invented Apprentice", other,
            "0123456789ab");
    assertEquals(signOff, again(signOff));
    assertEquals(correction, again(correction));
    assertEquals(withdrawal, again(withdrawal));
  }

  private static BenchRecord again(BenchRecord record) {
    return RecordJson.read(Statement.of(RecordJson.write(record)).text());
  }

  @Test
  void aReadingKeepsTheZeroThatTellsHowFinelyItWasRead() {
    Entries entries = Samples.soundWaterKey();
    String json = RecordJson.write(
        new BenchRecord.SignOff(
            UUID.randomUUID(), UUID.randomUUID(),
            Grade.of(UUID.randomUUID(), "Invented", Samples.waterKey(), "T-01",
                new Entries(true, entries.levels(), java.util.Map.of("opening", "2.50"), entries.lowers(),
                    entries.uppers(), "", "")),
            new Signature(UUID.randomUUID(), "Instructor", AT), "e")).toString();
    assertTrue(json.contains("\"value\":\"2.50\""), json);
  }

  @Test
  void whatStatesNoRecordIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> RecordJson.read("{}"));
    assertThrows(IllegalArgumentException.class, () -> RecordJson.read("not json"));
  }

  @Test
  void nobodySignsTheirOwnWork() {
    UUID same = UUID.randomUUID();
    assertThrows(IllegalArgumentException.class, () -> Samples.signOff(same, same, "T-01", AT));
  }
}
