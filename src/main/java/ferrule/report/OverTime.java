package ferrule.report;

import ferrule.bench.FlowStore;
import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Desk;
import ferrule.competency.Lapse;
import ferrule.competency.Programme;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.report.wait.Waits;
import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.TemporalAdjusters;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/** What the bench did in the last weeks, how long work waited, and what will lapse. */
final class OverTime {

  /** How many weeks of the bench are shown. */
  static final int WEEKS_BACK = 26;
  /** How far ahead lapses are told. */
  static final int DAYS_AHEAD = 182;

  private final Desk desk;
  private final FlowStore flow;

  OverTime(Desk desk, FlowStore flow) {
    this.desk = desk;
    this.flow = flow;
  }

  /** A week of the bench. */
  record BenchWeek(LocalDate monday, FlowStore.Signed signed) {}

  /** The weeks of the bench up to a moment, the earliest first; empty for everybody's work. */
  List<BenchWeek> benchWeeks(AsOf asOf, Optional<List<UUID>> apprentices) {
    LocalDate monday = asOf.day().with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY));
    List<LocalDate> mondays =
        IntStream.range(0, WEEKS_BACK).mapToObj(i -> monday.minusWeeks(WEEKS_BACK - 1L - i)).toList();
    List<Instant> bounds =
        new ArrayList<>(mondays.stream().map(d -> d.atStartOfDay(desk.zone()).toInstant()).toList());
    bounds.add(asOf.instant().plusNanos(1_000));
    List<FlowStore.Signed> signed = flow.signed(bounds, apprentices);
    return IntStream.range(0, WEEKS_BACK).mapToObj(i -> new BenchWeek(mondays.get(i), signed.get(i))).toList();
  }

  /** How long the work waited that was said to be ready in those weeks. */
  Waits waits(AsOf asOf, Optional<List<UUID>> apprentices) {
    Instant from = asOf.day().with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY)).minusWeeks(WEEKS_BACK - 1L)
        .atStartOfDay(desk.zone()).toInstant();
    List<Waits.Work> works = flow.waits(from, asOf.instant(), apprentices).stream()
        .map(w -> new Waits.Work(w.asked(), w.taken(), w.grader(), w.graded(), givenUp(w, asOf)))
        .toList();
    return Waits.of(works, asOf.instant());
  }

  /** Whoever has left waits for nothing any more. */
  private Optional<Instant> givenUp(FlowStore.Wait wait, AsOf asOf) {
    return wait.withdrawn().or(() -> wait.left().map(day -> day.atStartOfDay(desk.zone()).toInstant())
        .filter(left -> left.isBefore(asOf.instant()))
        .map(left -> left.isBefore(wait.asked()) ? wait.asked() : left));
  }

  /** A competency that will have to be shown again. */
  record Coming(LocalDate day, UUID id, String name, String competency, String title) {}

  /** What the apprentices who are there have complete and will have to show again. */
  List<Coming> coming(Cohort cohort, AsOf asOf) {
    Programme programme = desk.competencies().programmeOfCohort(cohort.id(), asOf.instant());
    Map<UUID, Person> there = there(cohort, asOf);
    return desk.competencies().lapses(there.keySet(), asOf.instant(), DAYS_AHEAD, programme).stream()
        .map(l -> coming(l, there.get(l.apprentice()), programme))
        .sorted(Comparator.comparing(Coming::day).thenComparing(Coming::name).thenComparing(Coming::title))
        .toList();
  }

  private static Coming coming(Lapse lapse, Person who, Programme programme) {
    String title = programme.find(lapse.competency()).map(Competency::title).orElse(lapse.competency());
    return new Coming(lapse.day(), lapse.apprentice(), who.fullName(), lapse.competency(), title);
  }

  private Map<UUID, Person> there(Cohort cohort, AsOf asOf) {
    Set<UUID> ids = desk.people().memberships(cohort.id()).stream()
        .filter(m -> m.holdsOn(asOf.day())).map(m -> m.person()).collect(Collectors.toSet());
    return desk.apprentices(cohort, true).stream().filter(p -> ids.contains(p.id()))
        .collect(Collectors.toMap(Person::id, Function.identity()));
  }
}
