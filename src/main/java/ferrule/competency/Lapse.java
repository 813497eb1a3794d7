package ferrule.competency;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * A competency that an apprentice has complete and will have to show again if nothing is done.
 *
 * @param apprentice who
 * @param competency its id
 * @param day the first day at whose end it is not complete any more
 */
public record Lapse(UUID apprentice, String competency, LocalDate day) {

  /**
   * The lapses of one apprentice, found by halving: time alone never completes a competency, so what is complete on a day
   * was so on every day before it.
   *
   * @param evidence that speaks for them at the end of a day if nothing is added
   */
  static List<Lapse> of(
      UUID apprentice, Programme programme, Function<LocalDate, Evidence> evidence, LocalDate today, int days) {
    List<Lapse> found = new ArrayList<>();
    LocalDate last = today.plusDays(days);
    search(
        apprentice, day -> complete(programme, evidence.apply(day)), today, complete(programme, evidence.apply(today)), last,
        complete(programme, evidence.apply(last)), found);
    return found;
  }

  private static void search(
      UUID apprentice,
      Function<LocalDate, Set<String>> complete,
      LocalDate from,
      Set<String> before,
      LocalDate to,
      Set<String> after,
      List<Lapse> found) {
    if (after.containsAll(before)) {
      return;
    }
    if (from.plusDays(1).equals(to)) {
      before.stream().filter(c -> !after.contains(c)).sorted().forEach(c -> found.add(new Lapse(apprentice, c, to)));
      return;
    }
    LocalDate middle = from.plusDays((to.toEpochDay() - from.toEpochDay()) / 2);
    Set<String> then = complete.apply(middle);
    search(apprentice, complete, from, before, middle, then, found);
    search(apprentice, complete, middle, then, to, after, found);
  }

  private static Set<String> complete(Programme programme, Evidence evidence) {
    return Evaluation.of(programme, evidence).entrySet().stream()
        .filter(e -> e.getValue().isMet()).map(Map.Entry::getKey).collect(Collectors.toSet());
  }
}
