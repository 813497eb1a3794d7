package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Programme;
import ferrule.people.Cohort;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * A cohort at a moment, worked out from {@linkplain RawRecords plain facts}: who was there, by which edition they were
 * judged, and how each stood by {@link PlainStanding}.
 *
 * @param standings of those who were there, in the order in which they came
 */
record PlainCohort(
    RandomHistory history, Cohort cohort, AsOf asOf, Programme programme, Map<UUID, PlainStanding> standings) {

  static PlainCohort of(RandomHistory history, Cohort cohort, AsOf asOf) {
    String edition = history.raw().edition(cohort.id(), cohort.edition(), asOf.instant());
    Programme programme = history.programmes().stream().filter(p -> p.edition().equals(edition)).findFirst()
        .orElse(history.programmes().get(0));
    Map<UUID, PlainStanding> standings = new LinkedHashMap<>();
    for (RawRecords.Membership m : history.raw().memberships) {
      boolean came = !asOf.past() || !m.joinedOn().isAfter(asOf.day());
      boolean went = m.leftOn().filter(day -> !day.isAfter(asOf.day())).isPresent();
      if (m.cohort().equals(cohort.id()) && came && !went) {
        standings.put(m.person(), new PlainStanding(history.raw(), m.person(), programme, asOf.instant(), asOf.instant()));
      }
    }
    return new PlainCohort(history, cohort, asOf, programme, standings);
  }

  /** How somebody would stand later if nothing were added. */
  PlainStanding later(UUID who, Instant seen) {
    return new PlainStanding(history.raw(), who, programme, asOf.instant(), seen);
  }

  /** The last day of a competency's week: weeks are counted from the first day of the cohort. */
  Optional<LocalDate> due(Competency c) {
    return c.week().isPresent() ? Optional.of(cohort.startsOn().plusDays(7L * c.week().getAsInt() - 1)) : Optional.empty();
  }

  boolean isDue(Competency c) {
    return due(c).filter(last -> last.isBefore(asOf.day())).isPresent();
  }

  long complete(Competency c) {
    return standings.values().stream().filter(s -> s.isComplete(c.id())).count();
  }

  long behind(Competency c) {
    return isDue(c) ? standings.size() - complete(c) : 0;
  }

  /** Those who would not have it in so long any more. */
  List<UUID> lapsing(Competency c, Duration ahead) {
    return standings.keySet().stream()
        .filter(who -> standings.get(who).isComplete(c.id())
            && !later(who, asOf.instant().plus(ahead)).isComplete(c.id())).toList();
  }

  List<UUID> lapsed(Competency c) {
    return standings.keySet().stream().filter(who -> standings.get(who).isLapsed(c)).toList();
  }

  /** Of how many no work was signed for so long who have something left to do. */
  List<UUID> still(Duration time) {
    return standings.keySet().stream()
        .filter(who -> standings.get(who).complete().size() < programme.competencies().size())
        .filter(who -> standings.get(who).lastWork().filter(asOf.instant().minus(time)::isBefore).isEmpty()).toList();
  }

  long of() {
    return (long) standings.size() * programme.competencies().size();
  }

  long complete() {
    return programme.competencies().stream().mapToLong(this::complete).sum();
  }

  long behind() {
    return programme.competencies().stream().mapToLong(this::behind).sum();
  }

  long finished() {
    return standings.values().stream().filter(s -> s.complete().size() == programme.competencies().size()).count();
  }

  long behindPlan() {
    return standings.values().stream()
        .filter(s -> programme.competencies().stream().anyMatch(c -> isDue(c) && !s.isComplete(c.id()))).count();
  }
}
