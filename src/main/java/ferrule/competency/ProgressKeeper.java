package ferrule.competency;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;

/**
 * Judges apprentices anew whose kept progress does not hold any more, a few at a time, so that pages find it kept. Pages
 * do not depend on it: of whom nothing is kept that holds, they judge themselves.
 *
 * <p>Several nodes may do so at once; of two who judge the same apprentice one gives way ({@link ProgressStore}).
 */
public final class ProgressKeeper {

  /** How far ahead it is told what will have lapsed. */
  public static final Duration AHEAD = Duration.ofDays(30);

  /** So that somebody who answers a drill item by item is judged anew now and then, not with each. */
  private static final Duration QUIET = Duration.ofSeconds(20);

  /** On days on which clocks are changed nothing that is kept holds for long. */
  private static final Duration AGAIN = Duration.ofMinutes(10);

  /** What was never kept holds for ever without a rule that knows time; a date that every database can hold. */
  private static final Instant FOR_EVER = Instant.parse("9999-01-01T00:00:00Z");

  private final Competencies competencies;
  private final EvidenceSource source;
  private final ProgressStore store;
  private final Clock clock;

  /** A keeper of what these judge from this source. */
  public ProgressKeeper(Competencies competencies, EvidenceSource source, ProgressStore store, Clock clock) {
    this.competencies = competencies;
    this.source = source;
    this.store = store;
    this.clock = clock;
  }

  /**
   * Judges some of those anew who need it.
   *
   * @param most how many
   * @return how many there were; fewer than were allowed means that nobody else needs it now
   */
  public int round(int most) {
    Instant now = clock.instant();
    Set<UUID> people = new LinkedHashSet<>(store.withNewEvidence(now.minus(QUIET), most));
    people.addAll(store.overdue(now, now.minus(AGAIN), most));
    people.addAll(store.neverJudged(LocalDate.ofInstant(now, source.zone()), most));
    people.addAll(moved(now, most));
    List<UUID> some = people.stream().limit(most).sorted().toList();
    judge(some);
    return some.size();
  }

  private Set<UUID> moved(Instant now, int most) {
    Map<String, Set<UUID>> cohorts = new HashMap<>();
    competencies.editionsOfCohorts(now).keySet().forEach(cohort -> cohorts
        .computeIfAbsent(competencies.programmeOfCohort(cohort, now).edition(), e -> new HashSet<>()).add(cohort));
    Set<UUID> found = new LinkedHashSet<>();
    cohorts.forEach((edition, those) -> found.addAll(store.onAnotherEdition(edition, those, most)));
    // who is in two cohorts is judged by the edition of one of them
    Map<UUID, Programme> programmes = competencies.programmesOf(found, now);
    Map<UUID, String> judgedBy = store.editions(found);
    found.removeIf(who -> programmes.get(who).edition().equals(judgedBy.get(who)));
    return found;
  }

  /** Judges these people anew and keeps how they stand. */
  void judge(Collection<UUID> people) {
    if (people.isEmpty()) {
      return;
    }
    // notes and versions before the evidence: see ProgressStore
    Map<UUID, ProgressStore.Before> before = store.before(people);
    // no finer than a database keeps it
    Instant now = clock.instant().truncatedTo(ChronoUnit.MICROS);
    Map<UUID, Programme> programmes = competencies.programmesOf(people, now);
    source.of(people, now)
        .forEach((who, evidence) -> store.keep(judged(who, before.get(who), programmes.get(who), evidence, now)));
  }

  private static ProgressStore.Judged judged(
      UUID who, ProgressStore.Before before, Programme programme, Evidence evidence, Instant now) {
    Progress progress = Progress.of(programme, evidence, now);
    Instant until = evidence.constantUntil(programme).orElse(FOR_EVER);
    Instant later = now.plus(AHEAD);
    if (until.isAfter(later)) {
      States same = States.of(progress, progress.verdicts().values());
      return new ProgressStore.Judged(who, before, progress, same, until.minus(AHEAD));
    }
    Evidence then = evidence.at(later);
    States states = States.of(progress, Evaluation.of(programme, then).values());
    Instant untilThen = then.constantUntil(programme).orElse(FOR_EVER).minus(AHEAD);
    return new ProgressStore.Judged(who, before, progress, states, until.isBefore(untilThen) ? until : untilThen);
  }
}
