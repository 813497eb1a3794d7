package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.people.Cohort;
import ferrule.people.Person;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import org.hipparchus.distribution.continuous.BetaDistribution;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.jsoup.select.Elements;

/** Every number and every word about how an apprentice stands on the page of their record, on any day. */
final class RecordNumbers {

  private final RandomHistory history;
  private final Function<String, Document> pages;
  private PlainPerson plain;
  private Document page;
  private int lapsed;
  private int forecasts;
  private int choices;

  RecordNumbers(RandomHistory history, Function<String, Document> pages) {
    this.history = history;
    this.pages = pages;
  }

  void areRightOn(AsOf asOf) {
    for (Person who : history.apprentices()) {
      plain = new PlainPerson(history, who, asOf);
      page = pages.apply("/record/" + who.id() + asOf.query());
      inAll();
      left();
      ahead();
      plain.programme().competencies().forEach(this::competency);
      hours();
      grants();
    }
  }

  /** So that a history that has nothing to look at is found. */
  void hadSomethingToLookAt() {
    assertTrue(
        lapsed > 0 && forecasts > 0 && choices > 0,
        lapsed + " lapsed, " + forecasts + " forecasts, " + choices + " choices");
  }

  private void inAll() {
    assertEquals(
        plain.programme().title() + ": " + plain.complete().size() + " of "
            + plain.programme().competencies().size() + " competencies complete"
            + (plain.asOf().past() ? " at the end of " + PlainGap.DAY.format(plain.asOf().day()) : "") + ". Edition "
            + plain.programme().edition(),
        page.select("main > p").first().text());
  }

  private boolean isBehind(Competency c) {
    return !plain.isComplete(c) && plain.isDue(c);
  }

  private List<Competency> open() {
    return plain.programme().competencies().stream().filter(c -> !plain.isComplete(c)).toList();
  }

  // -- what is left

  private void left() {
    List<Competency> open = new ArrayList<>(open());
    open.sort(Comparator
        .comparing((Competency c) -> isBehind(c) || plain.told(c).isLapsed() ? 0 : 1)
        .thenComparing(c -> plain.told(c).steps()));
    Elements section = page.select("section[aria-labelledby=left]");
    assertEquals(open.stream().limit(5).map(this::left).toList(), section.select("ol.left > li").eachText());
    assertEquals(
        open.size() > 5 ? List.of(open.size() - 5 + " more below, each with what is missing.") : List.of(),
        section.select("> p").eachText());
  }

  private String left(Competency c) {
    boolean hasLapsed = plain.told(c).isLapsed();
    lapsed += hasLapsed ? 1 : 0;
    List<String> missing = plain.missing(c);
    return String.join(
        " ", c.title() + (hasLapsed ? "lapsed" : isBehind(c) ? "behind plan" : ""),
        missing.size() == 1 ? missing.get(0) + "." : String.join(" ", missing), plain.told(c).hint()).strip();
  }

  // -- one competency

  private void competency(Competency c) {
    Element article = page.getElementById(c.id());
    String about = plain.who().fullName() + ", " + plain.asOf() + "\n" + article.text();
    boolean complete = plain.isComplete(c);
    choices += !complete && c.requires().all().count() > 1 ? 1 : 0;
    assertEquals(plain.word(c), article.select(".tag").text(), about);
    List<String> missing = plain.missing(c);
    assertEquals(
        missing.isEmpty() ? ""
            : "Missing: " + (missing.size() == 1 ? missing.get(0) + "." : String.join(" ", missing))
                + (" " + plain.told(c).hint()).stripTrailing(),
        article.select(".missing").text(), about);
    List<String> evidence = new ArrayList<>(plain.evidence(c));
    evidence.addAll(plain.works(c));
    assertEquals(evidence, article.select("ul.evidence > li").eachText(), about);
    assertEquals(
        plain.due(c).filter(day -> !complete)
            .map(day -> "Planned by " + PlainGap.DAY.format(day) + (isBehind(c) ? ": behind plan" : "")).stream().toList(),
        article.select("> p:containsOwn(Planned by)").eachText(), about);
  }

  // -- the way ahead

  private void ahead() {
    Elements section = page.select("section[aria-labelledby=ahead]");
    Optional<Cohort> cohort = plain.cohort();
    LocalDate day = plain.asOf().day();
    long days = ChronoUnit.DAYS.between(plain.since(), day) + 1;
    int left = plain.stepsLeft();
    assertEquals(cohort.isPresent() && days > 0 && left > 0, !section.isEmpty(), plain.who().fullName());
    if (section.isEmpty()) {
      return;
    }
    int done = Math.max(0, plain.stepsAtStart() - left);
    LocalDate ends = cohort.orElseThrow().endsOn();
    long weeksLeft = ChronoUnit.DAYS.between(day, ends);
    List<String> told = section.select("> p").eachText();
    assertEquals("The way ahead The programme ends on " + PlainGap.DAY.format(ends), section.select("> div").text());
    assertEquals(
        done + (done == 1 ? " step" : " steps") + " done, " + left + " left: " + number(7.0 * done / days) + " a week by now"
            + (weeksLeft > 0 ? ", " + number(7.0 * left / weeksLeft) + " a week to be done in time" : "") + "." + due(),
        told.get(0), plain.who().fullName());
    forecast(told.get(1), done, left, days);
    assertEquals(openings(), section.select("> ul > li").eachText());
  }

  private static String number(double number) {
    return String.format(Locale.ENGLISH, "%.1f", number);
  }

  private String due() {
    long due = plain.programme().competencies().stream().filter(plain::isDue).count();
    long behind = plain.programme().competencies().stream().filter(this::isBehind).count();
    return due == 0 ? "" : behind == 0 ? " All " + due + " competencies that are due by the plan are complete."
        : " " + behind + " of " + due + (due == 1 ? " competency" : " competencies") + " due by the plan "
            + (behind == 1 ? "is" : "are") + " not complete.";
  }

  /** Days are told as the first by whose end the chance is reached. */
  private void forecast(String told, int done, int left, long days) {
    double middle = left == 0 || done < 5 || days < 28 ? Double.POSITIVE_INFINITY : daysUntil(0.5, done, left, days);
    if (middle > 3_653) {
      assertTrue(told.startsWith("When it is all done cannot be told yet"), told);
      return;
    }
    forecasts++;
    double latest = daysUntil(0.9, done, left, days);
    String[] dates = told.replaceAll("^At this rate it is all done about |\\.$", "")
        .split("; eight of ten at this rate would be (between|after) | and ");
    assertEquals(latest > 3_653 ? 2 : 3, dates.length, told);
    isDay(middle, dates[0], told);
    isDay(daysUntil(0.1, done, left, days), dates[1], told);
    if (dates.length == 3) {
      isDay(latest, dates[2], told);
    }
  }

  private void isDay(double after, String date, String told) {
    long days = ChronoUnit.DAYS.between(plain.asOf().day(), LocalDate.parse(date, PlainGap.DAY));
    assertTrue(days > after - 1e-3 && days < after + 1 + 1e-3, told + ": " + after);
  }

  /** The quotient of two gamma variables, by the share of the first in their sum. */
  private static double daysUntil(double chance, int done, int left, long days) {
    double share = new BetaDistribution(left, done + 0.5).inverseCumulativeProbability(chance);
    return days * share / (1 - share);
  }

  private List<String> openings() {
    PlainOrder order = new PlainOrder(plain.programme());
    Set<String> complete = plain.complete();
    return open().stream()
        .filter(c -> order.isReady(complete, c) && !order.waiting(complete, c.id()).isEmpty())
        .sorted(Comparator.comparing((Competency c) -> -order.waiting(complete, c.id()).size())
            .thenComparing(c -> isBehind(c) ? 0 : 1).thenComparing(c -> plain.told(c).steps()))
        .limit(3)
        .map(c -> c.title() + " opens " + String.join(", ", order.waiting(complete, c.id()).stream()
            .map(id -> plain.programme().find(id).orElseThrow().title()).toList()))
        .toList();
  }

  // -- hours and prior learning

  private void hours() {
    Elements section = page.select("section[aria-labelledby=bench-hours]");
    List<RawRecords.Hours> hours = plain.hours();
    assertEquals(
        PlainGap.time(hours.stream().mapToInt(RawRecords.Hours::minutes).sum()), section.select("strong").text());
    assertEquals(
        hours.stream().sorted(Comparator.comparing(RawRecords.Hours::day).reversed()).limit(12)
            .map(h -> PlainGap.DAY.format(h.day()) + ": " + PlainGap.time(h.minutes())).toList(),
        section.select("li").eachText());
  }

  private void grants() {
    assertEquals(
        plain.grants().stream().map(g -> plain.programme().find(g.competency()).orElseThrow().title()
            + ": Seen at another bench. Entered by Invented Magnus, " + PlainPerson.day(g.at())
            + g.until().map(day -> "; counts until " + PlainGap.DAY.format(day)).orElse("") + ".").toList(),
        page.select("section[aria-labelledby=prior] .grant > p").eachText());
  }
}
