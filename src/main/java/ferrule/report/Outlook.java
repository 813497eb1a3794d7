package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Pace;
import ferrule.competency.ProgressKeeper;
import ferrule.competency.State;
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
  public static final Duration AHEAD = ProgressKeeper.AHEAD;

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

  /** The outlook of a cohort at a moment. */
  static Outlook of(Overview.OfCohort cohort, AsOf asOf) {
    List<Behind> behind = new ArrayList<>();
    List<Currency> lapsed = new ArrayList<>();
    List<Currency> lapsing = new ArrayList<>();
    Pace pace = Pace.of(cohort.cohort());
    List<Competency> competencies = cohort.programme().competencies();
    for (int i = 0; i < competencies.size(); i++) {
      Competency c = competencies.get(i);
      long lacking = pace.due(c).filter(asOf.day()::isAfter).isPresent() ? lacking(cohort, i) : 0;
      if (lacking > 0) {
        behind.add(new Behind(c.id(), c.title(), lacking));
      }
      for (Overview.Row row : cohort.rows()) {
        if (row.states().state(i) == State.LAPSED) {
          lapsed.add(currency(row, c));
        } else if (row.states().isLapsing(i)) {
          lapsing.add(currency(row, c));
        }
      }
    }
    behind.sort(Comparator.comparingLong(Behind::apprentices).reversed());
    return new Outlook(percent(cohort), behind, stuck(cohort, asOf), lapsed, lapsing);
  }

  private static long lacking(Overview.OfCohort cohort, int competency) {
    return cohort.rows().stream().filter(r -> r.states().state(competency) != State.COMPLETE).count();
  }

  private static Currency currency(Overview.Row row, Competency c) {
    Person who = row.member().person();
    return new Currency(who.id(), who.fullName(), c.id(), c.title());
  }

  private static int percent(Overview.OfCohort cohort) {
    long complete = cohort.rows().stream().mapToLong(r -> r.states().complete()).sum();
    long all = (long) cohort.rows().size() * cohort.programme().competencies().size();
    return all == 0 ? 0 : (int) (100 * complete / all);
  }

  private static List<Stuck> stuck(Overview.OfCohort cohort, AsOf asOf) {
    Instant since = asOf.instant().minus(STILL);
    int all = cohort.programme().competencies().size();
    return cohort.rows().stream()
        .filter(r -> r.states().complete() < all)
        .map(r -> new Stuck(r.member().person().id(), r.member().person().fullName(), r.states().lastWork()))
        .filter(s -> s.last().filter(since::isBefore).isEmpty())
        .sorted(Comparator.comparing(s -> s.last().orElse(Instant.MIN)))
        .toList();
  }
}
