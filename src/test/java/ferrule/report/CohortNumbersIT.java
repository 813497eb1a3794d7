package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.competency.AsOf;
import ferrule.competency.Area;
import ferrule.competency.Competency;
import ferrule.competency.Course;
import ferrule.competency.Gap;
import ferrule.competency.Opening;
import ferrule.competency.Programme;
import ferrule.competency.Progress;
import ferrule.competency.Requirement;
import ferrule.competency.Verdict;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.store.Database;
import ferrule.store.RealDatabases;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.hipparchus.distribution.continuous.BetaDistribution;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Every number of a cohort's matrix, outlook and pace on random histories, against what {@link PlainStanding} works out
 * from the plain facts. What is still taken from the product is said beside it.
 */
class CohortNumbersIT {

  private static final int MOST_STEPS = 2;

  private RandomHistory history;
  private Random random;
  private Cohort cohort;
  private Instant at;
  private LocalDate day;
  private AsOf asOf;
  private Programme programme;
  private PlainOrder order;
  private final Map<UUID, PlainStanding> plain = new HashMap<>();
  private List<RawRecords.Membership> there;
  private int lapsedSeen;
  private int behindSeen;
  private int stepsTried;

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3})
  void everyNumberIsThatOfThePlainFacts(long seed) {
    try (Database database = RealDatabases.h2()) {
      history = RandomHistory.of(database, seed);
      random = new Random(seed);
      for (Instant moment : history.moments(3)) {
        for (Cohort one : history.cohorts()) {
          look(one, moment);
          CohortReport report = CohortReport.of(
              cohort, history.desk().apprentices(cohort, asOf, false), history.competencies(), asOf);
          itsMembersAreThoseWhoWereThere(report, false);
          itsEditionIsTheOneOfThen(report);
          everyCellIsRight(report);
          everyAreaIsRight(report);
          everyFilterLeavesWhatItSays(report);
          thePaceIsRight(report);
          theSummaryIsRight(report);
          itsMembersAreThoseWhoWereThere(
              CohortReport.of(cohort, history.desk().apprentices(cohort, asOf, true), history.competencies(), asOf), true);
          if (!asOf.past()) {
            theOutlookIsRight(report);
          }
        }
      }
      assertTrue(behindSeen > 0 && stepsTried > 0, "the history has nothing to look at");
    }
  }

  private void look(Cohort one, Instant moment) {
    cohort = one;
    at = moment;
    day = LocalDate.ofInstant(at, RandomHistory.ZONE);
    asOf = new AsOf(day, at, day.isBefore(history.desk().today()));
    String edition = history.raw().edition(cohort.id(), cohort.edition(), at);
    programme = history.programmes().stream().filter(p -> p.edition().equals(edition)).findFirst()
        .orElse(history.programmes().get(0));
    order = new PlainOrder(programme);
    plain.clear();
    there = history.raw().memberships.stream().filter(m -> m.cohort().equals(cohort.id()))
        .filter(m -> !asOf.past() || !m.joinedOn().isAfter(day)).toList();
    for (RawRecords.Membership m : there) {
      plain.put(m.person(), new PlainStanding(history.raw(), m.person(), programme, at, at));
    }
  }

  private boolean hasLeft(UUID person) {
    return there.stream().filter(m -> m.person().equals(person))
        .anyMatch(m -> m.leftOn().filter(left -> !left.isAfter(day)).isPresent());
  }

  private void itsMembersAreThoseWhoWereThere(CohortReport report, boolean leaversToo) {
    List<UUID> expected = history.apprentices().stream()
        .sorted(Comparator.comparing(Person::fullName))
        .map(Person::id)
        .filter(plain::containsKey)
        .filter(id -> leaversToo || !hasLeft(id))
        .toList();
    assertEquals(expected, report.rows().stream().map(r -> r.apprentice().id()).toList());
    report.rows().forEach(r -> assertEquals(hasLeft(r.apprentice().id()), report.hasLeft(r)));
  }

  private void itsEditionIsTheOneOfThen(CohortReport report) {
    assertEquals(programme.edition(), report.programme().edition());
  }

  private Optional<LocalDate> due(Competency c) {
    return c.week().isPresent() ? Optional.of(cohort.startsOn().plusDays(7L * c.week().getAsInt() - 1)) : Optional.empty();
  }

  private boolean isDue(Competency c) {
    return due(c).filter(last -> last.isBefore(day)).isPresent();
  }

  private void everyCellIsRight(CohortReport report) {
    MatrixFilter.Selection all = MatrixFilter.NONE.of(report);
    List<MatrixView.Row> rows = MatrixView.rows(MatrixFilter.NONE, all);
    List<MatrixView.Column> columns = MatrixView.columns(all);
    assertEquals(report.rows().size(), rows.size());
    for (int r = 0; r < rows.size(); r++) {
      PlainStanding standing = plain.get(rows.get(r).id());
      assertEquals(standing.complete().size(), rows.get(r).completed());
      assertEquals(programme.competencies().size(), rows.get(r).of());
      assertEquals(standing.lastWork(), report.rows().get(r).progress().lastWork());
      for (int c = 0; c < columns.size(); c++) {
        cellIsRight(programme.competencies().get(c), standing, rows.get(r).cells().get(c));
      }
    }
    for (int c = 0; c < columns.size(); c++) {
      String id = programme.competencies().get(c).id();
      assertEquals(id, columns.get(c).id());
      assertEquals(rows.size(), columns.get(c).of());
      assertEquals(
          report.rows().stream().filter(row -> plain.get(row.apprentice().id()).isComplete(id)).count(),
          columns.get(c).completed());
    }
    assertEquals(
        programme.areas().stream().map(a -> a.competencies().size()).toList(),
        MatrixView.groups(all).stream().map(MatrixView.Group::columns).toList());
  }

  private void everyAreaIsRight(CohortReport report) {
    List<MatrixView.AreaRow> rows = MatrixView.areaRows(MatrixFilter.NONE.of(report));
    List<MatrixView.AreaColumn> columns = MatrixView.areaColumns(report);
    assertEquals(report.rows().size(), rows.size());
    for (int i = 0; i < programme.areas().size(); i++) {
      List<Competency> area = programme.areas().get(i).competencies();
      long haveAll = 0;
      for (int r = 0; r < rows.size(); r++) {
        MatrixView.AreaCell cell = rows.get(r).cells().get(i);
        PlainStanding standing = plain.get(rows.get(r).id());
        long complete = area.stream().filter(c -> standing.isComplete(c.id())).count();
        boolean left = report.hasLeft(report.rows().get(r));
        assertEquals(complete, cell.complete());
        assertEquals(area.size(), cell.of());
        assertEquals(
            area.stream().filter(c -> !left && isDue(c) && !standing.isComplete(c.id())).count(), cell.behind());
        assertEquals(complete == area.size(), cell.state().equals("good"));
        assertEquals(area.stream().filter(standing::isLapsed).count(), cell.lapsed());
        assertEquals(cell.lapsed() > 0, cell.state().equals("bad"));
        haveAll += complete == area.size() ? 1 : 0;
      }
      assertEquals(haveAll, columns.get(i).completed());
    }
  }

  private void cellIsRight(Competency c, PlainStanding standing, MatrixView.Cell cell) {
    boolean complete = standing.isComplete(c.id());
    String at = cohort.title() + " at " + this.at + ", " + c + " " + standing.works();
    assertEquals(complete, cell.word().equals("complete"), at);
    if (!complete) {
      lapsedSeen += standing.isLapsed(c) ? 1 : 0;
      assertEquals(
          standing.isLapsed(c) ? "lapsed" : standing.isBegun(c) ? "begun" : "not begun", cell.word(), at);
    }
    assertEquals(standing.told(c).steps(), cell.steps(), at);
    assertEquals(!complete && isDue(c), cell.behind(), at);
    behindSeen += cell.behind() ? 1 : 0;
    if (!complete && random.nextInt(6) == 0 && standing.works().size() < 24) {
      stepsTried++;
      assertEquals(Math.min(cell.steps(), MOST_STEPS + 1), standing.fewestSteps(c.id(), MOST_STEPS), at);
    }
  }

  private void everyFilterLeavesWhatItSays(CohortReport report) {
    for (MatrixFilter.State state : MatrixFilter.State.values()) {
      Optional<Area> area = random.nextBoolean() ? Optional.empty()
          : Optional.of(programme.areas().get(random.nextInt(programme.areas().size())));
      String words = List.of("", "sort 3", "APPRENTICE 4", "nothing of ours").get(random.nextInt(4));
      MatrixFilter filter = new MatrixFilter(state, area, words);
      MatrixFilter.Selection selection = filter.of(report);
      Set<String> columns = new HashSet<>();
      Set<UUID> rows = new HashSet<>();
      for (Competency c : area.map(Area::competencies).orElse(programme.competencies())) {
        for (CohortReport.Row row : report.rows()) {
          UUID who = row.apprentice().id();
          boolean named = switch (words) {
            case "" -> true;
            case "sort 3" -> area.isPresent() && area.get().competencies().stream().noneMatch(a -> a.id().equals("c3"))
                ? false : c.id().equals("c3");
            case "APPRENTICE 4" -> row.apprentice().fullName().endsWith("Apprentice 4");
            default -> false;
          };
          if (named && isIn(state, c, who)) {
            columns.add(c.id());
            rows.add(who);
          }
        }
      }
      assertEquals(
          columns.isEmpty() || rows.isEmpty(), selection.columns().isEmpty() || selection.rows().isEmpty(), filter.toString());
      if (!rows.isEmpty()) {
        assertEquals(columns, new HashSet<>(selection.columns().stream().map(Competency::id).toList()), filter.toString());
        assertEquals(
            rows, new HashSet<>(selection.rows().stream().map(r -> r.apprentice().id()).toList()), filter.toString());
        long cells = selection.rows().stream().flatMap(r -> selection.columns().stream()
            .filter(c -> isIn(state, c, r.apprentice().id()))).count();
        assertEquals(cells, CohortTables.table(filter, selection).rows().size(), filter.toString());
      }
    }
  }

  private boolean isIn(MatrixFilter.State state, Competency c, UUID who) {
    PlainStanding standing = plain.get(who);
    return switch (state) {
      case ANY -> true;
      case LACKING -> !standing.isComplete(c.id());
      case BEHIND -> !standing.isComplete(c.id()) && isDue(c);
      case LAPSED -> standing.isLapsed(c);
    };
  }

  private Overview.OfCohort overview() {
    return Overview.of(history.desk(), asOf).cohorts().stream()
        .filter(c -> c.cohort().id().equals(cohort.id())).findFirst().orElseThrow();
  }

  private void theSummaryIsRight(CohortReport report) {
    Overview overview = Overview.of(history.desk(), asOf);
    Summary summary = Summary.of(overview, history.programmes().get(0));
    Summary.CohortLine line = summary.cohorts().stream()
        .filter(l -> l.cohort().id().equals(cohort.id())).findFirst().orElseThrow();
    Map<String, Summary.Counts> counts = Summary.counts(overview(), asOf);
    List<PlainStanding> standings = report.rows().stream().map(r -> plain.get(r.apprentice().id())).toList();
    long complete = 0;
    long behind = 0;
    for (Competency c : programme.competencies()) {
      long having = standings.stream().filter(s -> s.isComplete(c.id())).count();
      long lacking = isDue(c) ? standings.size() - having : 0;
      assertEquals(standings.size(), counts.get(c.id()).of());
      assertEquals(having, counts.get(c.id()).complete());
      assertEquals(lacking, counts.get(c.id()).behind());
      assertEquals(standings.stream().filter(s -> s.isLapsed(c)).count(), counts.get(c.id()).lapsed());
      complete += having;
      behind += lacking;
    }
    assertEquals(standings.size(), line.apprentices());
    assertEquals(complete, line.counts().complete());
    assertEquals(behind, line.counts().behind());
    int all = programme.competencies().size();
    assertEquals(standings.stream().filter(s -> s.complete().size() == all).count(), line.finished());
    assertEquals(
        standings.stream()
            .filter(s -> programme.competencies().stream().anyMatch(c -> isDue(c) && !s.isComplete(c.id()))).count(),
        line.behindPlan());
    // by competency is the sum over cohorts
    for (Summary.CompetencyLine competency : summary.competencies()) {
      assertEquals(
          Summary.inCohorts(overview, competency.id()).stream().map(Summary.InCohort::counts)
              .reduce(Summary.Counts.NONE, Summary.Counts::plus),
          competency.counts());
    }
  }

  private void theOutlookIsRight(CohortReport report) {
    Instant later = at.plus(Outlook.AHEAD);
    Outlook outlook = Outlook.of(overview(), asOf);
    int all = report.rows().size() * programme.competencies().size();
    int complete = report.rows().stream().mapToInt(r -> plain.get(r.apprentice().id()).complete().size()).sum();
    assertEquals(all == 0 ? 0 : 100 * complete / all, outlook.percent());
    Map<String, Long> behind = new LinkedHashMap<>();
    List<String> lapsing = new ArrayList<>();
    for (Competency c : programme.competencies()) {
      for (CohortReport.Row row : report.rows()) {
        UUID who = row.apprentice().id();
        if (!plain.get(who).isComplete(c.id()) && isDue(c)) {
          behind.merge(c.id(), 1L, Long::sum);
        }
        PlainStanding then = new PlainStanding(history.raw(), who, programme, at, later);
        if (plain.get(who).isComplete(c.id()) && !then.isComplete(c.id())) {
          lapsing.add(who + " " + c.id());
        }
      }
    }
    Map<String, Long> told = new HashMap<>();
    outlook.behind().forEach(b -> told.put(b.competency(), b.apprentices()));
    assertEquals(behind, told);
    assertEquals(lapsing, outlook.lapsing().stream().map(l -> l.id() + " " + l.competency()).toList());
    Set<UUID> stuck = new HashSet<>();
    for (CohortReport.Row row : report.rows()) {
      PlainStanding standing = plain.get(row.apprentice().id());
      boolean still = standing.lastWork().filter(last -> last.isAfter(at.minus(Duration.ofDays(28)))).isEmpty();
      if (still && standing.complete().size() < programme.competencies().size()) {
        stuck.add(row.apprentice().id());
      }
    }
    assertEquals(stuck, new HashSet<>(outlook.stuck().stream().map(Outlook.Stuck::id).toList()));
  }

  // -- pace

  private void thePaceIsRight(CohortReport report) {
    PaceReport pace = PaceReport.of(report, history.competencies());
    assertEquals(report.rows().size(), pace.lines().size());
    for (PaceReport.Line line : pace.lines()) {
      UUID who = line.row().apprentice().id();
      PlainStanding standing = plain.get(who);
      assertEquals(programme.competencies().stream().filter(this::isDue).toList(), line.due());
      assertEquals(
          programme.competencies().stream().filter(c -> isDue(c) && !standing.isComplete(c.id())).toList(), line.behind());
      courseIsRight(line, who);
      openingsAreRight(line.openings(), standing);
    }
    for (int i = 1; i < pace.lines().size(); i++) {
      assertTrue(pace.lines().get(i - 1).prospect().compareTo(pace.lines().get(i).prospect()) <= 0, "those at risk first");
    }
    for (PaceReport.Prospect prospect : PaceReport.Prospect.values()) {
      assertEquals(pace.lines().stream().filter(l -> l.prospect() == prospect).count(), pace.with(prospect));
    }
    bottlenecksAreRight(pace, report);
    assertEquals(pace.lines().size(), PaceTables.pace(pace).rows().size());
    assertEquals(pace.bottlenecks().size(), PaceTables.openings(pace).rows().size());
  }

  private void courseIsRight(PaceReport.Line line, UUID who) {
    Course course = line.course();
    Progress progress = line.row().progress();
    // the lists of what is missing are the product's, each held to be the shortest by other tests
    assertEquals(steps(progress), course.left());
    boolean anyGrant = progress.verdicts().values().stream().anyMatch(v -> v.equivalence().isPresent());
    if (!anyGrant) {
      Progress nobody = history.competencies().of(List.of(new UUID(0, 0)), at, programme).get(new UUID(0, 0));
      assertEquals(Math.max(0, steps(nobody) - steps(progress)), course.done());
    }
    LocalDate joined = there.stream().filter(m -> m.person().equals(who)).findFirst().orElseThrow().joinedOn();
    LocalDate since = joined.isBefore(cohort.startsOn()) ? cohort.startsOn() : joined;
    long days = Math.max(0, day.toEpochDay() - since.toEpochDay() + 1);
    assertEquals(days, course.days());
    assertEquals(days == 0, course.perWeek().isEmpty());
    course.perWeek().ifPresent(rate -> assertEquals(course.done() / (days / 7.0), rate, 1e-9));
    long ahead = ChronoUnit.DAYS.between(day, cohort.endsOn());
    course.neededPerWeek(cohort.endsOn()).ifPresent(need -> assertEquals(course.left() / (ahead / 7.0), need, 1e-9));
    boolean told = course.left() == 0 || (course.done() >= 5 && days >= 28);
    assertEquals(told, line.chance().isPresent());
    if (told) {
      double chance = course.left() == 0 ? 1 : ahead <= 0 ? 0
          : new BetaDistribution(course.left(), course.done() + 0.5).cumulativeProbability((double) ahead / (ahead + days));
      assertEquals(chance, line.chance().orElseThrow(), 1e-9);
    }
    assertEquals(prospect(course, line.chance()), line.prospect().word());
    boolean still = plain.get(who).lastWork().filter(last -> last.isAfter(at.minus(Duration.ofDays(28)))).isEmpty();
    assertEquals(still && course.left() > 0, line.stuck());
    course.projection().ifPresent(p -> {
      assertFalse(p.earliest().isAfter(p.middle()));
      p.latest().ifPresent(last -> assertFalse(last.isBefore(p.middle())));
      double middle = new BetaDistribution(course.left(), course.done() + 0.5).inverseCumulativeProbability(0.5);
      assertEquals(days * middle / (1 - middle), ChronoUnit.DAYS.between(day, p.middle()), 1.01);
    });
  }

  private static String prospect(Course course, OptionalDouble chance) {
    if (course.left() == 0) {
      return "complete";
    }
    return chance.isEmpty() ? "too early to tell"
        : chance.getAsDouble() < 0.5 ? "at risk" : chance.getAsDouble() < 0.8 ? "may be late" : "on course";
  }

  /** Each task at most once as often as any competency asks, each assembly once, hours once. */
  private static int steps(Progress progress) {
    int steps = 0;
    for (var task : RandomHistory.WORK) {
      int most = 0;
      for (Verdict v : progress.verdicts().values()) {
        for (Gap gap : v.missing()) {
          most = gap instanceof Gap.SignOffs s && s.task().equals(task) ? Math.max(most, s.more()) : most;
        }
      }
      steps += most;
    }
    for (var assembly : RandomHistory.ASSEMBLIES) {
      steps += progress.verdicts().values().stream().flatMap(v -> v.missing().stream())
          .anyMatch(g -> g.practised().filter(assembly::equals).isPresent()) ? 1 : 0;
    }
    int minutes = progress.verdicts().values().stream().flatMap(v -> v.missing().stream())
        .mapToInt(g -> g instanceof Gap.Hours h ? h.more() : 0).max().orElse(0);
    return steps + (int) Math.ceil(minutes / 180.0);
  }

  private void openingsAreRight(List<Opening> openings, PlainStanding standing) {
    Set<String> complete = standing.complete();
    assertEquals(
        programme.competencies().stream().filter(c -> !complete.contains(c.id()) && order.isReady(complete, c))
            .map(Competency::id).collect(Collectors.toSet()),
        openings.stream().map(o -> o.competency().id()).collect(Collectors.toSet()));
    for (Opening o : openings) {
      assertEquals(order.waiting(complete, o.competency().id()), o.opens().stream().map(Competency::id).toList());
      assertEquals(isDue(o.competency()), o.behind());
      assertTrue(o.opens().size() <= openings.get(0).opens().size(), "what opens most comes first");
    }
  }

  private void bottlenecksAreRight(PaceReport pace, CohortReport report) {
    Map<String, List<Long>> expected = new HashMap<>();
    for (Competency c : programme.competencies()) {
      long lacking = 0;
      long ready = 0;
      long waiting = 0;
      for (CohortReport.Row row : report.rows()) {
        Set<String> complete = plain.get(row.apprentice().id()).complete();
        if (!complete.contains(c.id())) {
          lacking++;
          ready += order.isReady(complete, c) ? 1 : 0;
          waiting += order.waiting(complete, c.id()).size();
        }
      }
      if (waiting > 0) {
        expected.put(c.id(), List.of(lacking, ready, waiting));
      }
    }
    Map<String, List<Long>> told = new HashMap<>();
    pace.bottlenecks().forEach(b -> told.put(b.competency().id(), List.of(b.lacking(), b.ready(), b.waiting())));
    assertEquals(expected, told);
  }
}
