package ferrule.report;

import ferrule.competency.Competency;
import ferrule.competency.Pace;
import ferrule.people.Person;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * What a cohort's coordinator should look at: what is behind the plan, who is stuck, what has lapsed or will soon.
 *
 * @param percent of the apprentices' competencies that are complete, rounded down
 * @param behind competencies that some should have completed by the plan, those that most lack first
 * @param stuck apprentices of whom no work was signed for {@link #STILL}, the longest first
 * @param lapsed what was complete and has to be shown again
 * @param lapsing what is complete and will have to be shown again within {@link #AHEAD}
 */
public record Outlook(
    int percent, List<Behind> behind, List<Stuck> stuck, List<Currency> lapsed, List<Currency> lapsing) {

  /** How long nothing may be signed before an apprentice counts as stuck. */
  public static final Duration STILL = Duration.ofDays(28);
  /** How far ahead lapses are told. */
  public static final Duration AHEAD = Duration.ofDays(30);

  /** A competency and how many lack it who should not. */
  public record Behind(String competency, String title, long apprentices) {}

  /** An apprentice and when work of theirs was last signed, if any was. */
  public record Stuck(UUID id, String name, Optional<Instant> last) {}

  /** An apprentice and a competency. */
  public record Currency(UUID id, String name, String competency, String title) {}

  /** Copies the lists. */
  public Outlook {
    behind = List.copyOf(behind);
    stuck = List.copyOf(stuck);
    lapsed = List.copyOf(lapsed);
    lapsing = List.copyOf(lapsing);
  }

  /**
   * The outlook of a cohort.
   *
   * @param now its report, of those who are there
   * @param ahead its report of the same people as they would stand {@link #AHEAD} later if nothing is done
   */
  static Outlook of(CohortReport now, CohortReport ahead) {
    List<Behind> behind = new ArrayList<>();
    List<Currency> lapsed = new ArrayList<>();
    List<Currency> lapsing = new ArrayList<>();
    Pace pace = Pace.of(now.cohort());
    for (Competency c : now.programme().competencies()) {
      long lacking = now.rows().stream()
          .filter(r -> pace.isBehind(c, r.progress().of(c.id()), now.asOf().day())).count();
      if (lacking > 0) {
        behind.add(new Behind(c.id(), c.title(), lacking));
      }
      for (int i = 0; i < now.rows().size(); i++) {
        CohortReport.Row row = now.rows().get(i);
        Person who = row.apprentice();
        Currency currency = new Currency(who.id(), who.fullName(), c.id(), c.title());
        if (row.progress().of(c.id()).isLapsed()) {
          lapsed.add(currency);
        } else if (row.progress().of(c.id()).isMet() && !ahead.rows().get(i).progress().of(c.id()).isMet()) {
          lapsing.add(currency);
        }
      }
    }
    behind.sort(Comparator.comparingLong(Behind::apprentices).reversed());
    return new Outlook(percent(now), behind, stuck(now), lapsed, lapsing);
  }

  private static int percent(CohortReport report) {
    long complete = report.rows().stream().mapToLong(r -> r.progress().complete()).sum();
    long all = (long) report.rows().size() * report.programme().competencies().size();
    return all == 0 ? 0 : (int) (100 * complete / all);
  }

  private static List<Stuck> stuck(CohortReport report) {
    Instant since = report.asOf().instant().minus(STILL);
    int all = report.programme().competencies().size();
    return report.rows().stream()
        .filter(r -> r.progress().complete() < all)
        .map(r -> new Stuck(r.apprentice().id(), r.apprentice().fullName(), r.progress().lastWork()))
        .filter(s -> s.last().filter(since::isBefore).isEmpty())
        .sorted(Comparator.comparing(s -> s.last().orElse(Instant.MIN)))
        .toList();
  }
}
