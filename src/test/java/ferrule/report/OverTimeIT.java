package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.FlowStore;
import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Programme;
import ferrule.people.Cohort;
import ferrule.people.Membership;
import ferrule.people.Person;
import ferrule.report.wait.Quartiles;
import ferrule.report.wait.Waits;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Every figure over time, recomputed slowly from the plain facts of random histories. */
class OverTimeIT {

  private static final Duration LONG = Duration.ofMinutes(5);

  private static OverTime over(RandomHistory history) {
    return new OverTime(history.desk(), new FlowStore(history.database()));
  }

  private static List<AsOf> days(RandomHistory history) {
    List<AsOf> days = new ArrayList<>(List.of(history.desk().now()));
    for (Instant at : history.moments(2)) {
      LocalDate day = LocalDate.ofInstant(at, RandomHistory.ZONE);
      days.add(history.desk().asOf(Optional.of(day.toString())));
    }
    return days;
  }

  private static Optional<List<UUID>> ever(RandomHistory history, Cohort cohort) {
    return Optional.of(
        history.raw().memberships.stream().filter(m -> m.cohort().equals(cohort.id())).map(RawRecords.Membership::person)
            .distinct().toList());
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2})
  void theBenchIsCountedAsItWorked(long seed) {
    try (Database database = RealDatabases.h2()) {
      checkBench(RandomHistory.of(database, seed));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void onBothDatabases(Database database) {
    RandomHistory history = RandomHistory.of(database, 9, 200);
    checkBench(history);
    checkCurves(history);
  }

  private static void checkBench(RandomHistory history) {
    RawRecords raw = history.raw();
    for (AsOf asOf : days(history)) {
      for (Optional<List<UUID>> who : List.of(Optional.<List<UUID>>empty(), ever(history, history.cohorts().get(0)))) {
        Set<UUID> whose = who.<Set<UUID>>map(TreeSet::new)
            .orElse(history.apprentices().stream().map(Person::id).collect(Collectors.toSet()));
        for (OverTime.BenchWeek week : over(history).benchWeeks(asOf, who)) {
          assertEquals(DayOfWeek.MONDAY, week.monday().getDayOfWeek());
          assertEquals(signed(raw, week.monday(), asOf, whose), week.signed(), week.monday() + " as of " + asOf);
        }
        assertEquals(Waits.of(works(history, asOf, whose), asOf.instant()), over(history).waits(asOf, who));
      }
    }
  }

  private static boolean within(Instant at, LocalDate monday, AsOf asOf) {
    Instant from = monday.atStartOfDay(RandomHistory.ZONE).toInstant();
    Instant to = monday.plusWeeks(1).atStartOfDay(RandomHistory.ZONE).toInstant();
    return !at.isBefore(from) && at.isBefore(to) && !at.isAfter(asOf.instant());
  }

  private static FlowStore.Signed signed(RawRecords raw, LocalDate monday, AsOf asOf, Set<UUID> whose) {
    int graded = 0;
    int corrected = 0;
    int withdrawn = 0;
    int seconds = 0;
    TreeMap<UUID, UUID> subject = new TreeMap<>();
    for (RawRecords.Signed s : raw.signed) {
      subject.put(s.record(), s.grade().apprentice());
      if (within(s.at(), monday, asOf) && whose.contains(s.grade().apprentice())) {
        graded += s.corrects().isEmpty() ? 1 : 0;
        corrected += s.corrects().isPresent() ? 1 : 0;
      }
    }
    for (RawRecords.Withdrawn w : raw.withdrawn) {
      withdrawn += within(w.at(), monday, asOf) && whose.contains(subject.get(w.record())) ? 1 : 0;
    }
    for (RawRecords.Seconded s : raw.seconded) {
      seconds += within(s.at(), monday, asOf) && whose.contains(subject.get(s.record())) ? 1 : 0;
    }
    return new FlowStore.Signed(graded, seconds, corrected, withdrawn);
  }

  /** How far the work had come that somebody said was ready in the weeks that are shown. */
  static List<Waits.Work> works(RandomHistory history, AsOf asOf, Set<UUID> whose) {
    RawRecords raw = history.raw();
    LocalDate monday = asOf.day();
    while (monday.getDayOfWeek() != DayOfWeek.MONDAY) {
      monday = monday.minusDays(1);
    }
    Instant from = monday.minusWeeks(25).atStartOfDay(RandomHistory.ZONE).toInstant();
    List<Waits.Work> works = new ArrayList<>();
    for (RawRecords.Asked asked : raw.asked) {
      if (!whose.contains(asked.apprentice()) || asked.at().isBefore(from) || asked.at().isAfter(asOf.instant())) {
        continue;
      }
      Optional<RawRecords.Begun> begun = raw.begun.stream()
          .filter(b -> b.asked().equals(Optional.of(asked.id())) && !b.at().isAfter(asOf.instant())).findFirst();
      Optional<Instant> graded = raw.signed.stream()
          .filter(s -> begun.filter(b -> b.draft().equals(s.draft())).isPresent() && !s.at().isAfter(asOf.instant()))
          .map(RawRecords.Signed::at).findFirst();
      Optional<Instant> withdrawn = raw.askedNoMore.stream().filter(n -> n.asked() == asked.id())
          .map(RawRecords.AskedNoMore::at).filter(at -> !at.isAfter(asOf.instant())).findFirst();
      Optional<Instant> left = history.leftOn(asked.apprentice())
          .map(day -> day.atStartOfDay(RandomHistory.ZONE).toInstant()).filter(at -> at.isBefore(asOf.instant()));
      Optional<Instant> gone = left.map(at -> at.isBefore(asked.at()) ? asked.at() : at);
      works.add(new Waits.Work(
          asked.at(), begun.map(RawRecords.Begun::at), begun.map(RawRecords.Begun::instructor), graded, withdrawn.or(() -> gone)));
    }
    return works;
  }

  @ParameterizedTest
  @ValueSource(longs = {4, 5})
  void theCurveIsWhatEveryWeekWasThen(long seed) {
    try (Database database = RealDatabases.h2()) {
      checkCurves(RandomHistory.of(database, seed));
    }
  }

  private static void checkCurves(RandomHistory history) {
    CompletionCurve.Maker maker =
        new CompletionCurve.Maker(history.desk(), new CohortWeekStore(history.database()), "e1");
    for (Cohort cohort : history.cohorts()) {
      for (AsOf asOf : days(history)) {
        List<CohortWeek> slowly = slowly(history, cohort, asOf);
        assertEquals(slowly, maker.curve(cohort, asOf, LONG).weeks(), "made for the first time");
        assertEquals(slowly, maker.curve(cohort, asOf, LONG).weeks(), "from what was kept");
      }
    }
  }

  private static List<CohortWeek> slowly(RandomHistory history, Cohort cohort, AsOf asOf) {
    List<CohortWeek> weeks = new ArrayList<>();
    for (LocalDate day = cohort.startsOn().plusDays(6); !day.isAfter(asOf.day()); day = day.plusDays(7)) {
      LocalDate last = day;
      Instant end = day.equals(asOf.day()) ? asOf.instant() : AsOf.endOf(day, RandomHistory.ZONE);
      String edition = history.raw().edition(cohort.id(), cohort.edition(), end);
      Programme programme = history.programmes().stream().filter(p -> p.edition().equals(edition)).findFirst()
          .orElse(history.programmes().get(0));
      List<UUID> there = history.raw().memberships.stream()
          .filter(m -> m.cohort().equals(cohort.id()) && !m.joinedOn().isAfter(last))
          .filter(m -> m.leftOn().filter(left -> !left.isAfter(last)).isEmpty())
          .map(RawRecords.Membership::person)
          .filter(p -> history.leftOn(p).filter(left -> !left.isAfter(last)).isEmpty())
          .toList();
      double[] complete = there.stream()
          .mapToDouble(p -> new PlainStanding(history.raw(), p, programme, end, end).complete().size()).toArray();
      Quartiles.of(complete).ifPresent(quartiles -> weeks.add(new CohortWeek(
          last, there.size(), programme.competencies().size(), (int) DoubleStream.of(complete).sum(), quartiles)));
    }
    return weeks;
  }

  @ParameterizedTest
  @ValueSource(longs = {7, 8})
  void whatWillLapseIsCompleteTheDayBeforeAndNothingElseGoes(long seed) {
    try (Database database = RealDatabases.h2()) {
      RandomHistory history = RandomHistory.of(database, seed);
      for (Cohort cohort : history.cohorts()) {
        AsOf now = history.desk().now();
        List<OverTime.Coming> coming = over(history).coming(cohort, now);
        Programme programme = history.competencies().programmeOfCohort(cohort.id(), now.instant());
        for (Membership m : history.people().memberships(cohort.id())) {
          if (!m.holdsOn(now.day())) {
            assertTrue(coming.stream().noneMatch(c -> c.id().equals(m.person())), "who has left has nothing to show");
            continue;
          }
          PlainStanding today = on(history, m.person(), programme, now, now.day());
          PlainStanding last = on(history, m.person(), programme, now, now.day().plusDays(OverTime.DAYS_AHEAD));
          for (String c : programme.competencies().stream().map(Competency::id).toList()) {
            Optional<OverTime.Coming> found =
                coming.stream().filter(l -> l.id().equals(m.person()) && l.competency().equals(c)).findFirst();
            assertEquals(today.isComplete(c) && !last.isComplete(c), found.isPresent());
            found.ifPresent(l -> {
              assertFalse(on(history, m.person(), programme, now, l.day()).isComplete(c));
              assertTrue(on(history, m.person(), programme, now, l.day().minusDays(1)).isComplete(c));
            });
          }
        }
      }
    }
  }

  /** How somebody will stand at the end of a day if nothing is recorded after now. */
  private static PlainStanding on(RandomHistory history, UUID person, Programme programme, AsOf now, LocalDate day) {
    Instant seen = day.equals(now.day()) ? now.instant() : AsOf.endOf(day, RandomHistory.ZONE);
    return new PlainStanding(history.raw(), person, programme, now.instant(), seen);
  }
}
