package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.store.Database;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** Every number of the programme's summary and of the list of cohorts, on the pages and in their files. */
class ProgrammeSummaryIT extends ServedHistory {

  /** What a line counts. */
  private record Counts(long of, long complete, long behind, long lapsing, long lapsed) {

    static final Counts NONE = new Counts(0, 0, 0, 0, 0);

    static Counts of(PlainCohort cohort, Competency c) {
      return new Counts(
          cohort.standings().size(), cohort.complete(c), cohort.behind(c), cohort.lapsing(c, Outlook.AHEAD).size(),
          cohort.lapsed(c).size());
    }

    static Counts of(PlainCohort cohort) {
      return cohort.programme().competencies().stream().map(c -> of(cohort, c)).reduce(NONE, Counts::plus);
    }

    Counts plus(Counts o) {
      return new Counts(
          of + o.of, complete + o.complete, behind + o.behind, lapsing + o.lapsing, lapsed + o.lapsed);
    }

    String percent() {
      return Long.toString(of == 0 ? 0 : 100 * complete / of);
    }

    void areThoseOf(Map<String, String> row) {
      assertEquals(Long.toString(of), row.get("to complete"), row.toString());
      assertEquals(Long.toString(complete), row.get("complete"), row.toString());
      assertEquals(Long.toString(behind), row.get("behind plan"), row.toString());
      assertEquals(Long.toString(lapsing), row.get("lapsing"), row.toString());
      assertEquals(Long.toString(lapsed), row.get("lapsed"), row.toString());
      if (of == 0) {
        assertEquals("", row.get("share complete"), row.toString());
      } else {
        assertNumber((double) complete / of, row.get("share complete"), row.toString());
      }
    }
  }

  private final Map<UUID, PlainCohort> cohorts = new LinkedHashMap<>();
  private int pastNumbers;

  static Stream<Arguments> databases() {
    return databasesAndSeeds(51);
  }

  @ParameterizedTest
  @MethodSource("databases")
  void everyNumberIsThatOfThePlainFactsOnThatDay(Database database, long seed) {
    serve(database, RandomHistory.of(database, seed));
    for (AsOf asOf : days(3)) {
      cohorts.clear();
      history.cohorts().stream().sorted(Comparator.comparing(Cohort::startsOn).reversed())
          .forEach(c -> cohorts.put(c.id(), plain(c, asOf)));
      byCohort(asOf);
      byCompetency(asOf);
      theSummaryPage(asOf);
      oneCompetency(asOf, history.programmes().get(0).competencies().get(2));
      pastNumbers += asOf.past() ? cohorts.values().stream().mapToInt(c -> (int) c.complete()).sum() : 0;
    }
    assertTrue(pastNumbers > 0, "no past day has anything to look at");
    cohorts.replaceAll((id, c) -> plain(c.cohort(), history.desk().now()));
    theListOfCohorts();
    whatToLookAt();
  }

  private void byCohort(AsOf asOf) {
    List<Map<String, String>> rows = rows("/summary/cohorts.csv" + asOf.query());
    assertEquals(cohorts.size(), rows.size());
    for (Map<String, String> row : rows) {
      PlainCohort cohort = cohorts.get(UUID.fromString(row.get("cohort id")));
      assertEquals(cohort.programme().edition(), row.get("edition"));
      assertEquals(Integer.toString(cohort.standings().size()), row.get("apprentices"), row.toString());
      assertEquals(Long.toString(cohort.finished()), row.get("finished"), row.toString());
      assertEquals(Long.toString(cohort.behindPlan()), row.get("apprentices behind plan"), row.toString());
      Counts.of(cohort).areThoseOf(row);
    }
  }

  private Counts overCohorts(String competency) {
    return cohorts.values().stream()
        .flatMap(c -> c.programme().find(competency).stream().map(of -> Counts.of(c, of))).reduce(Counts.NONE, Counts::plus);
  }

  private void byCompetency(AsOf asOf) {
    List<Map<String, String>> rows = rows("/summary/competencies.csv" + asOf.query());
    assertEquals(
        history.programmes().get(0).competencies().stream().map(Competency::id).toList(),
        rows.stream().map(r -> r.get("competency id")).toList());
    rows.forEach(row -> overCohorts(row.get("competency id")).areThoseOf(row));
  }

  private void theSummaryPage(AsOf asOf) {
    Document page = page(coordinator, "/summary" + asOf.query());
    Counts all = cohorts.values().stream().map(Counts::of).reduce(Counts.NONE, Counts::plus);
    String says = page.select("main p.measure").first().text();
    List<String> numbers = Stream.of(says.split("[^0-9]+")).filter(n -> !n.isEmpty()).toList();
    assertEquals(
        Stream.of(
            all.percent(), sum(c -> (long) c.standings().size()), Integer.toString(cohorts.size()),
            Long.toString(all.complete()), Long.toString(all.of()), sum(PlainCohort::finished), sum(PlainCohort::behindPlan))
            .toList(),
        numbers.subList(0, 7), says);
    assertEquals(Long.toString(all.lapsed()), numbers.get(7), says);
    List<List<String>> lines = cells(page, "By cohort");
    assertEquals(cohorts.size(), lines.size());
    for (List<String> line : lines) {
      PlainCohort cohort =
          cohorts.values().stream().filter(c -> c.cohort().title().equals(line.get(0))).findFirst().orElseThrow();
      Counts of = Counts.of(cohort);
      assertEquals(
          List.of(
              Integer.toString(cohort.standings().size()), Long.toString(cohort.finished()),
              Long.toString(cohort.behindPlan()), Long.toString(of.complete()), Long.toString(of.of()), of.percent()),
          line.subList(1, 7), line.toString());
      assertEquals(Long.toString(of.lapsed()), line.get(7), line.toString());
      assertEquals(Long.toString(of.lapsing()), line.get(8), line.toString());
    }
    List<List<String>> competencies = cells(page, "By competency");
    List<Competency> known = history.programmes().get(0).competencies();
    assertEquals(known.size(), competencies.size());
    for (int i = 0; i < known.size(); i++) {
      itIs(overCohorts(known.get(i).id()), competencies.get(i));
    }
  }

  private String sum(Function<PlainCohort, Long> of) {
    return Long.toString(cohorts.values().stream().mapToLong(of::apply).sum());
  }

  /** A line of counts begins with a name. */
  private static void itIs(Counts of, List<String> line) {
    assertEquals(
        List.of(Long.toString(of.complete()), Long.toString(of.of()), of.percent(), Long.toString(of.behind())),
        line.subList(1, 5), line.toString());
    assertEquals(Long.toString(of.lapsed()), line.get(5), line.toString());
    assertEquals(Long.toString(of.lapsing()), line.get(6), line.toString());
  }

  private void oneCompetency(AsOf asOf, Competency competency) {
    String query = "?competency=" + competency.id() + (asOf.past() ? "&as-of=" + asOf.day() : "");
    List<Map<String, String>> rows = rows("/summary/cohorts.csv" + query);
    List<List<String>> lines = cells(page(coordinator, "/summary" + query), competency.title() + ", by cohort");
    assertEquals(cohorts.size(), rows.size());
    assertEquals(cohorts.size(), lines.size());
    for (int i = 0; i < rows.size(); i++) {
      PlainCohort cohort = cohorts.get(UUID.fromString(rows.get(i).get("cohort id")));
      Counts of = Counts.of(cohort, cohort.programme().find(competency.id()).orElseThrow());
      of.areThoseOf(rows.get(i));
      itIs(of, lines.get(i));
    }
  }

  // -- the list of cohorts

  private void theListOfCohorts() {
    Document page = page(coordinator, "/cohorts");
    for (Map<String, String> row : rows("/cohorts.csv")) {
      UUID id = UUID.fromString(row.get("cohort id"));
      PlainCohort cohort = cohorts.get(id);
      Counts of = Counts.of(cohort);
      List<Competency> programme = cohort.programme().competencies();
      assertEquals(Integer.toString(cohort.standings().size()), row.get("apprentices"));
      assertNumber(Long.parseLong(of.percent()) / 100.0, row.get("complete"), row.toString());
      long behind = programme.stream().filter(c -> cohort.behind(c) > 0).count();
      assertEquals(Long.toString(behind), row.get("competencies behind plan"), row.toString());
      int stuck = cohort.still(Outlook.STILL).size();
      assertEquals(Integer.toString(stuck), row.get("apprentices stuck"), row.toString());
      assertEquals(Long.toString(of.lapsed()), row.get("lapsed"), row.toString());
      assertEquals(Long.toString(of.lapsing()), row.get("lapsing"), row.toString());

      var section = page.select("section[aria-labelledby=c-" + id + "]");
      assertTrue(
          section.text().contains(cohort.standings().size() + (cohort.standings().size() == 1 ? " apprentice, " : " apprentices, ")
              + of.percent() + " % of their competencies complete"), section.text());
      assertEquals(of.percent(), section.select("progress").attr("value"));
      var heads = section.select(".heads > div");
      assertEquals(behind, shown(heads.get(0)));
      assertEquals(stuck, shown(heads.get(1)));
      assertEquals(Long.parseLong(row.get("lapsed")) + of.lapsing(), shown(heads.get(2)));
      heads.get(0).select("li").forEach(li -> {
        String competency = li.select("a").attr("href").replaceFirst(".*competency=", "");
        assertTrue(
            li.text().endsWith(": " + cohort.behind(cohort.programme().find(competency).orElseThrow()) + " of "
                + cohort.standings().size()), li.text());
      });
    }
  }

  /** How many a heading lists, with those that it only counts. */
  private static long shown(Element head) {
    String more = head.select("p").stream().map(Element::text).filter(t -> t.startsWith("and "))
        .map(t -> t.replaceAll("[^0-9]", "")).findFirst().orElse("0");
    return head.select("li").size() + Long.parseLong(more);
  }

  private void whatToLookAt() {
    List<Map<String, String>> rows = rows("/concerns.csv");
    Map<UUID, String> names =
        history.apprentices().stream().collect(Collectors.toMap(Person::id, Person::fullName));
    List<String> expected = new ArrayList<>();
    for (PlainCohort cohort : cohorts.values()) {
      String title = cohort.cohort().title();
      for (Competency c : cohort.programme().competencies()) {
        if (cohort.behind(c) > 0) {
          expected.add(String.join("|", title, "behind plan", "", c.title(), Long.toString(cohort.behind(c)), ""));
        }
        cohort.lapsing(c, Outlook.AHEAD).forEach(
            who -> expected.add(String.join("|", title, "lapsing", names.get(who), c.title(), "1", "")));
        cohort.lapsed(c).forEach(
            who -> expected.add(String.join("|", title, "lapsed", names.get(who), c.title(), "1", "")));
      }
      cohort.still(Outlook.STILL).forEach(who -> expected.add(String.join(
          "|", title, "stuck", names.get(who), "", "1",
          cohort.standings().get(who).lastWork().map(Object::toString).orElse(""))));
    }
    List<String> told = new ArrayList<>(rows.stream().map(r -> String.join(
        "|", r.get("cohort"), r.get("why"), r.get("apprentice"), r.get("competency"), r.get("apprentices"),
        r.get("last signed (UTC)"))).toList());
    assertEquals(expected.stream().sorted().toList(), told.stream().sorted().toList());
  }
}
