package ferrule.bench;

import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;

/**
 * The fields of a grade in a form: {@code level.ID}, {@code reading.ID}, {@code lower.ID} and {@code upper.ID} for each
 * criterion, {@code note} and {@code reason}; in a group each behind the draft's own prefix.
 */
final class EntryForm {

  private EntryForm() {}

  /**
   * The entries that a form holds.
   *
   * @param before what the draft holds: only whether its cautions are confirmed stays
   * @param field gives the text of a field, if it has one
   * @param prefix before each name, such as "" or a draft's id and a point
   */
  static Entries read(Task task, Entries before, Function<String, Optional<String>> field, String prefix) {
    Map<String, Integer> levels = new TreeMap<>();
    Map<String, String> readings = new TreeMap<>();
    Map<String, String> lowers = new TreeMap<>();
    Map<String, String> uppers = new TreeMap<>();
    for (Criterion criterion : task.criteria()) {
      String id = criterion.id();
      field.apply(prefix + "level." + id).filter(t -> t.matches("[1-9]")).ifPresent(
          t -> levels.put(id, Integer.parseInt(t)));
      field.apply(prefix + "reading." + id).ifPresent(t -> readings.put(id, t));
      field.apply(prefix + "lower." + id).ifPresent(t -> lowers.put(id, t));
      field.apply(prefix + "upper." + id).ifPresent(t -> uppers.put(id, t));
    }
    return new Entries(
        before.cautionsConfirmed(), levels, readings, lowers, uppers,
        field.apply(prefix + "note").orElse(""), field.apply(prefix + "reason").orElse(""));
  }
}
