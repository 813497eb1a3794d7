package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.drill.PartNames;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.store.Database;
import ferrule.web.Browser;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.function.Predicate;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Every cell of the files about cohorts, the people, their hours and what they mix up, against what the plain facts of a
 * random history give, on past days too where a file is of a day.
 */
class CohortFilesIT extends ServedHistory {

  private static final double Z = 1.959963984540054;

  private int cells;
  private int records;
  private int lines;
  private int shares;

  static Stream<Arguments> databases() {
    return databasesAndSeeds(71);
  }

  @ParameterizedTest
  @MethodSource("databases")
  void everyCellIsThatOfThePlainFacts(Database database, long seed) throws IOException {
    serve(database, RandomHistory.of(database, seed));
    RecordNumbers ofRecords = new RecordNumbers(history, path -> page(coordinator, path));
    for (AsOf asOf : days(2)) {
      ofRecords.areRightOn(asOf);
      for (Cohort cohort : history.cohorts()) {
        competencies(plain(cohort, asOf));
        paper(plain(cohort, asOf));
        pace(plain(cohort, asOf));
        confusion(cohort, asOf);
      }
    }
    assertTrue(cells > 100 && records > 0 && shares > 0 && lines > 0,
        cells + " cells, " + records + " records, " + shares + " shares, " + lines + " lines on paper");
    ofRecords.hadSomethingToLookAt();
    whoeverHasALinkReadsAWholeRecord();
    ClassNumbers ofTheClass = new ClassNumbers(history, path -> page(instructor, path), drillPages.askable());
    ofTheClass.areRight();
    hours();
    theirPeople();
    mixUpsOfTheClass();
    mostMixedUp(raw.set.stream().filter(ofTheClass::isInHand).toList(), "/class");
    mostMixedUp(raw.set, "/class?older=yes");
  }

  private void whoeverHasALinkReadsAWholeRecord() throws IOException {
    Browser stranger = new Browser(server.port());
    for (Person who : history.apprentices().subList(0, 3)) {
      letIn(who);
      new DossierNumbers(history, who, as(who.signInName())).areRight(stranger, who.equals(history.apprentices().get(0)));
    }
  }

  private String name(UUID person) {
    return Stream.concat(history.apprentices().stream(), history.instructors().stream())
        .filter(p -> p.id().equals(person)).map(Person::fullName).findFirst().orElseThrow();
  }

  private void competencies(PlainCohort cohort) {
    List<Map<String, String>> rows =
        rows("/cohorts/" + cohort.cohort().id() + "/competencies.csv" + cohort.asOf().query());
    List<String> expected = new ArrayList<>();
    cohort.standings().keySet().stream().sorted(Comparator.comparing(this::name))
        .forEach(who -> cohort.programme().competencies().forEach(c -> expected.add(who + " " + c.id())));
    assertEquals(expected, rows.stream().map(r -> r.get("apprentice id") + " " + r.get("competency id")).toList());
    for (Map<String, String> row : rows) {
      UUID who = UUID.fromString(row.get("apprentice id"));
      Competency c = cohort.programme().find(row.get("competency id")).orElseThrow();
      cell(cohort, cohort.standings().get(who), c, row);
      assertEquals(name(who), row.get("apprentice"));
      assertEquals(cohort.cohort().title(), row.get("cohort"));
      assertEquals(cohort.asOf().day().toString(), row.get("as of"));
      assertEquals(cohort.programme().edition(), row.get("edition"));
      assertEquals("", row.get("left on"));
    }
  }

  private void cell(PlainCohort cohort, PlainStanding standing, Competency c, Map<String, String> row) {
    cells++;
    String at = row.toString();
    boolean complete = standing.isComplete(c.id());
    assertEquals(c.title(), row.get("competency"));
    assertEquals(cohort.due(c).map(Object::toString).orElse(""), row.get("planned for"), at);
    assertEquals(!complete && cohort.isDue(c) ? "true" : "false", row.get("behind plan"), at);
    assertEquals(
        complete ? "complete" : standing.isLapsed(c) ? "lapsed" : standing.isBegun(c) ? "begun" : "not begun",
        row.get("state"), at);
    assertEquals(Integer.toString(standing.told(c).steps()), row.get("steps missing"), at);
    assertEquals(standing.told(c).sentence().strip(), row.get("what is missing"), at);
    List<String> speaking = standing.speaking(c).stream().map(w -> Long.toString(w.number())).toList();
    List<String> told = Stream.of(row.get("records").split(" ")).filter(n -> !n.isEmpty()).toList();
    assertEquals(Integer.toString(told.size()), row.get("sign-offs that count"), at);
    assertEquals(speaking, told, at);
    records += told.size();
  }

  /** The report on paper: how everybody stands in each competency, area by area, then what is missing, as it is printed. */
  private void paper(PlainCohort cohort) throws IOException {
    List<UUID> there = cohort.standings().keySet().stream().sorted(Comparator.comparing(this::name)).toList();
    List<String> lacking = new ArrayList<>();
    List<String> missing = new ArrayList<>();
    cohort.programme().areas().forEach(area -> there.forEach(who -> area.competencies().stream()
        .filter(c -> !cohort.standings().get(who).isComplete(c.id()))
        .forEach(c -> lacking.add(
            "," + cohort.standings().get(who).told(c).steps() + "missing" + (cohort.isDue(c) ? ",behindplan" : "")))));
    there.forEach(who -> cohort.programme().competencies().stream()
        .filter(c -> !cohort.standings().get(who).isComplete(c.id()))
        .filter(c -> cohort.isDue(c) || cohort.standings().get(who).isLapsed(c))
        .forEach(c -> missing.add(
            name(who) + c.title() + cohort.standings().get(who).told(c).sentence().strip().replaceFirst("^Missing: ", ""))));
    String path = "/cohorts/" + cohort.cohort().id() + "/competencies.pdf" + cohort.asOf().query();
    try (PDDocument pdf = Loader.loadPDF(coordinator.getBytes(path))) {
      String text = new PDFTextStripper().getText(pdf).replaceAll("\\s", "");
      assertEquals(
          lacking, Pattern.compile(",\\d+missing(,behindplan)?").matcher(text).results().map(MatchResult::group).toList(), path);
      int at = text.lastIndexOf("Behindtheplan,orlapsed");
      for (String line : missing) {
        int found = text.indexOf(line.replaceAll("\\s", ""), at);
        assertTrue(found >= at, () -> path + " has in its place: " + line);
        at = found;
      }
      lines += missing.size();
    }
  }

  /** What is counted; the steps and what follows from them {@code CohortNumbersIT} holds. */
  private void pace(PlainCohort cohort) {
    List<Competency> all = cohort.programme().competencies();
    List<Map<String, String>> rows = rows("/cohorts/" + cohort.cohort().id() + "/pace.csv" + cohort.asOf().query());
    assertEquals(
        cohort.standings().entrySet().stream().map(s -> name(s.getKey()) + " " + s.getValue().complete().size() + " of "
            + all.size() + ", " + all.stream().filter(cohort::isDue).count() + " due, "
            + all.stream().filter(c -> cohort.isDue(c) && !s.getValue().isComplete(c.id())).count() + " behind").sorted().toList(),
        rows.stream().map(r -> r.get("apprentice") + " " + r.get("complete") + " of " + r.get("of") + ", " + r.get("due")
            + " due, " + r.get("behind") + " behind").sorted().toList());
    for (Map<String, String> row : rows("/cohorts/" + cohort.cohort().id() + "/openings.csv" + cohort.asOf().query())) {
      Competency c = all.stream().filter(o -> o.title().equals(row.get("competency"))).findFirst().orElseThrow();
      assertEquals(Long.toString(cohort.standings().size() - cohort.complete(c)), row.get("lacking"), row.toString());
    }
  }

  // -- what is mixed up

  /** How often each part was taken for each other, and by whom. */
  private record Mixed(Map<List<ConceptId>, Integer> times, Map<List<ConceptId>, Set<UUID>> by, Map<ConceptId, Integer> answers) {}

  private Mixed mixed(Predicate<RawRecords.Answered> which, Instant at) {
    Mixed mixed = new Mixed(new HashMap<>(), new HashMap<>(), new TreeMap<>());
    for (RawRecords.Answered a : raw.answered) {
      if (which.test(a) && a.kind().asksForName() && !a.at().isAfter(at)) {
        mixed.answers().merge(a.part(), 1, Integer::sum);
        raw.takenFor(a, at).ifPresent(other -> {
          mixed.times().merge(List.of(a.part(), other), 1, Integer::sum);
          mixed.by().computeIfAbsent(List.of(a.part(), other), k -> new HashSet<>()).add(a.person());
        });
      }
    }
    return mixed;
  }

  private void confusion(Cohort cohort, AsOf asOf) {
    Set<UUID> there = raw.memberships.stream()
        .filter(m -> m.cohort().equals(cohort.id()) && !m.joinedOn().isAfter(asOf.day())
            && m.leftOn().filter(day -> !day.isAfter(asOf.day())).isEmpty())
        .map(RawRecords.Membership::person).collect(Collectors.toSet());
    Mixed mixed = mixed(a -> there.contains(a.person()), asOf.instant());
    List<Map<String, String>> rows = rows("/cohorts/" + cohort.id() + "/confusion.csv" + asOf.query());
    assertEquals(mixed.times().size(), rows.size());
    for (Map<String, String> row : rows) {
      List<ConceptId> two = List.of(ConceptId.of(row.get("asked id")), ConceptId.of(row.get("taken for id")));
      int of = mixed.answers().get(two.get(0));
      mixedUp(mixed, two, row);
      assertEquals(Integer.toString(of), row.get("answers"), row.toString());
      share(mixed.times().get(two), of, row.get("share"), row.toString());
    }
    pairs(mixed, rows("/cohorts/" + cohort.id() + "/confusion-pairs.csv" + asOf.query()));
  }

  private static void mixedUp(Mixed mixed, List<ConceptId> two, Map<String, String> row) {
    assertEquals(Integer.toString(mixed.times().getOrDefault(two, 0)), row.get("times"), row.toString());
    assertEquals(Integer.toString(mixed.by().get(two).size()), row.get("people"), row.toString());
  }

  private void share(int times, int of, String told, String about) {
    if (of < 8) {
      assertEquals("", told, about);
    } else {
      assertNumber((double) times / of, told, about);
      shares++;
    }
  }

  /** The pairs are told by name, so they are held as a whole: all counts with all limits, in order of the lower one. */
  private void pairs(Mixed mixed, List<Map<String, String>> rows) {
    Map<Set<ConceptId>, Integer> times = new HashMap<>();
    mixed.times().forEach((two, n) -> times.merge(Set.copyOf(two), n, Integer::sum));
    List<String> expected = new ArrayList<>();
    times.forEach((two, n) -> {
      int of = two.stream().mapToInt(part -> mixed.answers().getOrDefault(part, 0)).sum();
      expected.add(n + " of " + of + (of < 8 ? "" : limits(n, of)));
    });
    List<String> told = rows.stream().map(row -> row.get("times") + " of " + row.get("answers")
        + (row.get("share").isEmpty() ? "" : words(row.get("share"), row.get("share from"), row.get("share to")))).toList();
    assertEquals(expected.stream().sorted().toList(), told.stream().sorted().toList());
  }

  /** Wilson's limits, by his formula written out: E. B. Wilson, JASA 22 (1927), 209-212, as solved for p. */
  private static String limits(int times, int of) {
    double p = (double) times / of;
    double middle = p + Z * Z / (2 * of);
    double half = Z * Math.sqrt(p * (1 - p) / of + Z * Z / (4.0 * of * of));
    double all = 1 + Z * Z / of;
    return words(p, (middle - half) / all, (middle + half) / all);
  }

  private static String words(String share, String from, String to) {
    return words(Double.parseDouble(share), Double.parseDouble(from), Double.parseDouble(to));
  }

  private static String words(double share, double from, double to) {
    return String.format(" %.9f %.9f %.9f", share, Math.abs(from), to);
  }

  private Mixed mixedIn(List<RawRecords.Set> drills) {
    Set<UUID> set = drills.stream().map(RawRecords.Set::assignment).collect(Collectors.toSet());
    Set<UUID> sittings = raw.sat.stream().filter(s -> s.assignment().filter(set::contains).isPresent())
        .map(RawRecords.Sat::sitting).collect(Collectors.toSet());
    return mixed(a -> sittings.contains(a.sitting()), history.clock().instant());
  }

  private void mixUpsOfTheClass() {
    Mixed mixed = mixedIn(raw.set);
    List<Map<String, String>> rows = csv(instructor.get("/class/mix-ups.csv").body());
    assertEquals(mixed.times().size(), rows.size());
    rows.forEach(row ->
        mixedUp(mixed, List.of(ConceptId.of(row.get("asked id")), ConceptId.of(row.get("taken for id"))), row));
  }

  private void mostMixedUp(List<RawRecords.Set> drills, String path) {
    Mixed mixed = mixedIn(drills);
    PartNames names = new PartNames(RandomHistory.TRUMPET);
    List<List<ConceptId>> most = mixed.times().keySet().stream().sorted(Comparator
        .comparing((List<ConceptId> two) -> -mixed.times().get(two)).thenComparing(two -> -mixed.by().get(two).size())
        .thenComparing(two -> two.get(0).value()).thenComparing(two -> two.get(1).value())).limit(8).toList();
    assertEquals(
        most.stream().map(two -> List.of(
            names.heading(two.get(0)), names.term(two.get(1)), "" + mixed.times().get(two), "" + mixed.by().get(two).size()))
            .toList(),
        page(instructor, path).select("section[aria-labelledby=mix-ups] tbody tr").stream()
            .map(line -> line.select("th, td").eachText()).toList());
  }

  // -- hours and people

  private void hours() {
    List<String> expected = new ArrayList<>();
    Set<List<UUID>> members = raw.memberships.stream().map(m -> List.of(m.cohort(), m.person())).collect(Collectors.toSet());
    for (List<UUID> member : members) {
      for (RawRecords.Hours h : raw.hours) {
        boolean corrected = raw.hours.stream().anyMatch(c -> c.corrects().filter(h.entry()::equals).isPresent());
        if (h.apprentice().equals(member.get(1)) && !corrected && h.minutes() > 0) {
          String cohort =
              history.cohorts().stream().filter(c -> c.id().equals(member.get(0))).findFirst().orElseThrow().title();
          expected.add(cohort + " " + h.apprentice() + " " + h.day() + " " + h.minutes() + " " + name(h.by()) + " "
              + (h.corrects().isPresent() ? "true" : "false"));
        }
      }
    }
    List<Map<String, String>> rows = csv(instructor.get("/hours.csv").body());
    assertEquals(
        expected.stream().sorted().toList(),
        rows.stream().map(r -> r.get("cohort") + " " + r.get("apprentice id") + " " + r.get("day") + " "
            + Duration.parse(r.get("time")).toMinutes() + " " + r.get("entered by") + " " + r.get("correction"))
            .sorted().toList());
    assertTrue(expected.size() > 3);
  }

  private void theirPeople() {
    List<String> expected = raw.memberships.stream()
        .map(m -> m.person() + " " + m.joinedOn() + " " + m.leftOn().map(Object::toString).orElse("")).sorted().toList();
    assertEquals(
        expected,
        rows("/people.csv").stream().filter(r -> r.get("role").equals("apprentice"))
            .map(r -> r.get("person id") + " " + r.get("joined on") + " " + r.get("left on")).sorted().toList());
  }
}
