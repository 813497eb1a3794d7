package ferrule.competency;

import java.time.Instant;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * Time that an apprentice spent at the bench on one day, as an instructor entered it. An entry is never changed: a
 * correction is a new one that takes its place, with no minutes if there were none.
 *
 * @param id names the entry for ever
 * @param apprentice whose time
 * @param day on which
 * @param minutes 0 to 24 hours; 0 only in a correction
 * @param what was done, in a few words; may be empty
 * @param enteredBy who entered it
 * @param enteredByName as it stood then
 * @param enteredAt when
 * @param corrects the entry whose place it takes
 * @param reason of a correction; empty text otherwise
 */
public record BenchHours(
    UUID id,
    UUID apprentice,
    LocalDate day,
    int minutes,
    String what,
    UUID enteredBy,
    String enteredByName,
    Instant enteredAt,
    Optional<UUID> corrects,
    String reason) {

  private static final int WHOLE_DAY = 24 * 60;

  /** Checks the minutes, and that a correction gives its reason. */
  public BenchHours {
    if (minutes < (corrects.isPresent() ? 0 : 1) || minutes > WHOLE_DAY) {
      throw new IllegalArgumentException("a day at the bench is 1 to 1440 minutes; given: " + minutes);
    }
    if (corrects.isPresent() == reason.isBlank()) {
      throw new IllegalArgumentException("a correction of bench hours gives its reason, and nothing else does");
    }
    if (apprentice.equals(enteredBy)) {
      throw new IllegalArgumentException("nobody enters their own bench hours");
    }
  }

  /** Those of these entries, which are in the order of entering, that count after every correction. */
  public static List<BenchHours> counting(List<BenchHours> entries) {
    Map<UUID, BenchHours> counting = new LinkedHashMap<>();
    for (BenchHours entry : entries) {
      entry.corrects().ifPresent(counting::remove);
      counting.put(entry.id(), entry);
    }
    return counting.values().stream().filter(e -> e.minutes() > 0).toList();
  }

  /** Minutes in words, such as "2 hours" or "2 h 30 min". */
  public static String inWords(int minutes) {
    int hours = minutes / 60;
    int rest = minutes % 60;
    if (rest == 0) {
      return hours == 1 ? "1 hour" : hours + " hours";
    }
    return hours == 0 ? rest + " minutes" : hours + " h " + rest + " min";
  }
}
