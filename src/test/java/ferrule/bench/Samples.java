package ferrule.bench;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;

/** Tasks, entries and records that the tests of this package share; the tasks are the curriculum's own. */
final class Samples {

  static final TaskBook TASKS = TaskReader.readBook(Curriculum.bundled(), new Problems());
  static final TaskId WATER_KEY = TaskId.of("water-key-cork-or-pad");
  static final TaskId VALVES = TaskId.of("valve-alignment-with-felts");

  private Samples() {}

  static Task waterKey() {
    return TASKS.find(WATER_KEY).orElseThrow();
  }

  static Task valves() {
    return TASKS.find(VALVES).orElseThrow();
  }

  /** Work on a water key that meets the standard, with one criterion below its best. */
  static Entries soundWaterKey() {
    return new Entries(
        true, Map.of("cup-clean", 3, "fit-in-cup", 4, "seat", 4, "seal", 2, "spring", 4),
        Map.of("opening", "2,5"), Map.of("opening", "2"), Map.of("opening", "4.0"), "Nipple dressed lightly.", "");
  }

  /** Work on any task that could not be better. */
  static Entries best(Task task) {
    Map<String, Integer> levels = new TreeMap<>();
    Map<String, String> readings = new TreeMap<>();
    Map<String, String> uppers = new TreeMap<>();
    for (Criterion criterion : task.criteria()) {
      if (criterion instanceof Criterion.Rated rated) {
        levels.put(rated.id(), rated.levels().size());
      } else if (criterion instanceof Criterion.Measured measured) {
        readings.put(measured.id(), measured.nominal().orElse(BigDecimal.ZERO).toPlainString());
        uppers.put(measured.id(), "100");
      }
    }
    return new Entries(true, levels, readings, Map.of(), uppers, "", "");
  }

  static Grade soundGrade(UUID apprentice, String tag) {
    return Grade.of(apprentice, "Invented Apprentice", waterKey(), tag, soundWaterKey());
  }

  static BenchRecord.SignOff signOff(UUID apprentice, UUID instructor, String tag, Instant at) {
    return new BenchRecord.SignOff(
        UUID.randomUUID(), UUID.randomUUID(), soundGrade(apprentice, tag),
        new Signature(instructor, "Invented Instructor", at), TASKS.edition());
  }
}
