package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class RecordJsonTest {

  private static final Instant AT = Instant.parse("2026-11-25T18:30:00.250Z");

  // cyberphone/json-canonicalization, testdata/input and output: values, weird, structures (test data of RFC 8785)
  @Test
  void canonicalFormIsThatOfTheReferenceData() {
    assertEquals(
        "{\"escaping\":\"€$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\",\"literals\":[null,true,false],"
            + "\"numbers\":[1e+30,4.5,333333333.3333333,0.002,1e-27]}",
        RecordJson.canonical(
            "{\"numbers\": [1E30, 4.50, 333333333.33333329, 2e-3, 0.000000000000000000000000001],"
                + "\"escaping\": \"\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\\"\\/\","
                + "\"literals\": [null, true, false]}"));
    assertEquals(
        "{\"1\":\"One\",\"</script>\":\"Browser Challenge\",\"\u0080\":\"Control\u007f\","
            + "\"ö\":\"Latin Small Letter O With Diaeresis\",\"€\":\"Euro Sign\",\"\ud83d\ude02\":\"Smiley\","
            + "\"\ufb33\":\"Hebrew Letter Dalet With Dagesh\"}",
        RecordJson.canonical(
            "{\"\\u20ac\": \"Euro Sign\",\"1\": \"One\",\"\\u0080\": \"Control\\u007f\","
                + "\"\\ud83d\\ude02\": \"Smiley\",\"\\u00f6\": \"Latin Small Letter O With Diaeresis\","
                + "\"\\ufb33\": \"Hebrew Letter Dalet With Dagesh\",\"</script>\": \"Browser Challenge\"}"));
    assertEquals(
        "{\"\":\"empty\",\"1\":{\"\\n\":56,\"f\":{\"F\":5,\"f\":\"hi\"}},\"10\":{},\"111\":[{}],\"A\":{},\"a\":{}}",
        RecordJson.canonical(
            "{\"1\": {\"f\": {\"f\": \"hi\",\"F\": 5} ,\"\\n\": 56.0},\"10\": { },\"\": \"empty\",\"a\": { },"
                + "\"111\": [ { } ],\"A\": { }}"));
  }

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
    assertEquals(signOff, RecordJson.read(RecordJson.write(signOff)));
    assertEquals(correction, RecordJson.read(RecordJson.write(correction)));
    assertEquals(withdrawal, RecordJson.read(RecordJson.write(withdrawal)));
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
            new Signature(UUID.randomUUID(), "Instructor", AT), "e"));
    assertTrue(json.contains("\"value\":\"2.50\""), json);
  }

  @Test
  void whatStatesNoRecordIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> RecordJson.read("{}"));
    assertThrows(IllegalArgumentException.class, () -> RecordJson.read("not json"));
    assertThrows(IllegalArgumentException.class, () -> RecordJson.canonical("{\"a\":"));
  }

  @Test
  void nobodySignsTheirOwnWork() {
    UUID same = UUID.randomUUID();
    assertThrows(IllegalArgumentException.class, () -> Samples.signOff(same, same, "T-01", AT));
  }
}
