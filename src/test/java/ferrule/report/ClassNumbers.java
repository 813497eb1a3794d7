package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.drill.PartNames;
import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.jsoup.select.Elements;

/** Every figure on an instructor's page of the class but its mix-ups, which stand in a file too. */
final class ClassNumbers {

  private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMM", Locale.UK);

  private final RandomHistory history;
  private final RawRecords raw;
  private final Instant now;
  private final Function<String, Document> pages;
  private final Set<ConceptId> onTheDrawing;

  /**
   * The figures of a history as it is now.
   *
   * @param onTheDrawing the parts that the drawing shows well enough to ask for them
   */
  ClassNumbers(RandomHistory history, Function<String, Document> pages, Set<ConceptId> onTheDrawing) {
    this.history = history;
    raw = history.raw();
    now = history.clock().instant();
    this.pages = pages;
    this.onTheDrawing = onTheDrawing;
  }

  void areRight() {
    Document page = pages.apply("/class");
    rulings(page);
    drills(page, raw.set.stream().filter(this::isInHand).toList());
    drills(pages.apply("/class?older=yes"), raw.set);
    long older = raw.set.stream().filter(s -> !isInHand(s)).count();
    assertTrue(older > 0, "no drill is old");
    assertTrue(page.select("section[aria-labelledby=drills]").text().contains(older + " older, due more than 8 weeks ago"));
    PlainKnowledge known = new PlainKnowledge(raw, now);
    for (Cohort cohort : history.cohorts()) {
      known(known, cohort, pages.apply("/class?cohort=" + cohort.id()).select("section.known"));
    }
  }

  /** A phrase awaits a ruling for a part while an answer with it was not known and no ruling stands that regraded it. */
  private void rulings(Document page) {
    Set<List<Object>> open = new HashSet<>();
    for (RawRecords.Answered a : raw.answered) {
      boolean ruled = false;
      for (RawRecords.Regraded r : raw.regraded) {
        if (r.response().equals(a.response())) {
          ruled = raw.rulingsUndone.stream().noneMatch(u -> u.ruling().equals(r.ruling()));
        }
      }
      if (a.phrase().isPresent() && a.verdict().equals("unknown") && !ruled) {
        open.add(List.of(a.part(), a.phrase().get()));
      }
    }
    assertTrue(!open.isEmpty());
    assertEquals(
        open.size() + (open.size() == 1 ? " answer awaits" : " answers await") + " your ruling.",
        page.select("p.note > span").text());
  }

  // -- the drills that are set

  private List<UUID> members(UUID cohort) {
    return raw.memberships.stream().filter(m -> m.cohort().equals(cohort) && m.leftOn().isEmpty())
        .map(RawRecords.Membership::person).toList();
  }

  private LocalDate due(RawRecords.Set set) {
    return LocalDate.ofInstant(set.at(), RandomHistory.ZONE).plusDays(14);
  }

  /** Whether a drill was due in the last eight weeks, or is to come. */
  boolean isInHand(RawRecords.Set set) {
    return !due(set).isBefore(LocalDate.ofInstant(now, RandomHistory.ZONE).minusWeeks(8));
  }

  private void drills(Document page, List<RawRecords.Set> shown) {
    List<String> expected = shown.stream().sorted(Comparator.comparing(RawRecords.Set::at).reversed())
        .map(this::drill).toList();
    assertEquals(
        expected,
        page.select("section[aria-labelledby=drills] tbody tr").stream()
            .map(row -> row.select("a").attr("href") + " " + row.text()).toList());
  }

  private String drill(RawRecords.Set set) {
    boolean past = due(set).isBefore(LocalDate.ofInstant(now, RandomHistory.ZONE));
    Set<UUID> takers = new HashSet<>(members(set.cohort()));
    List<RawRecords.Sat> sat =
        raw.sat.stream().filter(s -> s.assignment().filter(set.assignment()::equals).isPresent()).toList();
    sat.forEach(s -> takers.add(s.person()));
    Map<UUID, Integer> best = sat.stream().filter(s -> answers(s).size() == s.items())
        .collect(Collectors.toMap(RawRecords.Sat::person, this::percent, Math::max));
    String cohort =
        history.cohorts().stream().filter(c -> c.id().equals(set.cohort())).findFirst().orElseThrow().title();
    return "/class/drills/" + set.assignment() + " Names of the day " + cohort + " " + DAY.format(due(set))
        + (past ? " past " : " ") + best.size() + " of " + takers.size() + " " + average(best.values());
  }

  private static String average(Collection<Integer> percents) {
    return percents.isEmpty() ? "–"
        : percents.stream().mapToInt(p -> p).sum() / percents.size() + " %";
  }

  private List<RawRecords.Answered> answers(RawRecords.Sat sat) {
    return raw.answered.stream().filter(a -> a.sitting().equals(sat.sitting())).toList();
  }

  /** All points are quarters at least, so that sums of them are exact. */
  private int percent(RawRecords.Sat sat) {
    return (int) (100 * answers(sat).stream().mapToDouble(a -> raw.credit(a, now)).sum() / sat.items());
  }

  // -- what the class knows

  private void known(PlainKnowledge known, Cohort cohort, Elements section) {
    List<UUID> people = members(cohort.id());
    assertEquals("What the class knows: " + cohort.title(), section.select("h2").text());
    List<ConceptId> asked = onTheDrawing.stream().filter(part -> known.isAsked(people, part)).toList();
    assertTrue(!asked.isEmpty());
    assertTrue(
        section.select("caption").text().startsWith("Of " + people.size() + " apprentices, "), section.text());
    assertEquals(
        "Of " + (onTheDrawing.size() - asked.size()) + " parts nothing is said: nobody was asked for them.",
        section.select("> p").last().text());
    PartNames names = new PartNames(RandomHistory.TRUMPET);
    Map<String, ConceptId> byName = asked.stream()
        .collect(Collectors.toMap(p -> names.heading(p) + names.home(p).map(h -> " " + names.term(h)).orElse(""), p -> p));
    List<Element> rows = section.select("tbody tr");
    assertEquals(asked.size(), rows.size());
    assertEquals(
        asked.size() <= 8 ? "" : "The other " + (asked.size() - 8) + " parts that were asked for",
        section.select("summary").text());
    double before = 0;
    for (Element row : rows) {
      ConceptId part = byName.remove(row.select("th").text());
      assertEquals(
          known.todayInWords(people, part, now) + ", then " + known.inWords(people, part, now.plus(Duration.ofDays(7))),
          row.select("td").first().text() + ", then " + row.select("td").last().text(), row.text());
      double share = known.today(people, part, now);
      assertTrue(share > before - 1e-9, "those that fewest would name come first");
      before = share;
    }
  }
}
