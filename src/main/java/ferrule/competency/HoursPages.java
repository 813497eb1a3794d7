package ferrule.competency;

import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

/** Where an instructor enters who was at the bench for how long: a whole session at once, and corrections. */
public final class HoursPages implements Pages {

  private static final int LONGEST_WHAT = 200;
  private static final int SHOWN = 20;

  private final Desk desk;
  private final HoursStore hours;

  /** The pages. */
  public HoursPages(Desk desk, HoursStore hours) {
    this.desk = desk;
    this.hours = hours;
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("Hours", "/hours", 50, Access.INSTRUCTOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/hours", this::show, Access.INSTRUCTOR);
    routes.post("/hours", this::add, Access.INSTRUCTOR);
    routes.post("/hours/{id}/correction", this::correct, Access.INSTRUCTOR);
  }

  /** An apprentice and their hours in all. */
  record Line(UUID id, String name, String total) {}

  /** An entry. */
  record Entry(UUID id, String day, String name, String minutes, String what, String by, boolean corrects, String reason) {}

  private void show(Context ctx) {
    List<Cohort> cohorts = desk.people().cohorts();
    Optional<Cohort> cohort = cohorts.stream()
        .filter(c -> Visit.queryText(ctx, "cohort").filter(c.id().toString()::equals).isPresent()).findFirst()
        .or(() -> cohorts.stream().findFirst());
    List<Person> apprentices = cohort.map(c -> desk.apprentices(c, false)).orElse(List.of());
    List<BenchHours> counting =
        BenchHours.counting(hours.about(apprentices.stream().map(Person::id).toList(), desk.clock().instant()));
    Map<UUID, Integer> totals =
        counting.stream().collect(Collectors.groupingBy(BenchHours::apprentice, Collectors.summingInt(BenchHours::minutes)));
    Map<UUID, Person> byId = apprentices.stream().collect(Collectors.toMap(Person::id, Function.identity()));
    Map<String, Object> model = new HashMap<>();
    model.put("cohorts", cohorts);
    model.put("cohort", cohort.map(Cohort::id).map(UUID::toString).orElse(""));
    model.put("today", desk.today());
    model.put("lines", apprentices.stream()
        .map(a -> new Line(a.id(), a.fullName(), BenchHours.inWords(totals.getOrDefault(a.id(), 0)))).toList());
    model.put("entries", counting.stream()
        .sorted(Comparator.comparing(BenchHours::enteredAt).thenComparing(BenchHours::day).reversed())
        .limit(SHOWN).map(h -> entry(h, byId.get(h.apprentice()))).toList());
    Page.show(ctx, "competency/hours", model);
  }

  private static Entry entry(BenchHours h, Person apprentice) {
    return new Entry(
        h.id(), AsOf.inWords(h.day()), apprentice.fullName(), BenchHours.inWords(h.minutes()), h.what(),
        h.enteredByName(), h.corrects().isPresent(), h.reason());
  }

  private void add(Context ctx) {
    Person by = Visit.person(ctx);
    UUID cohortId = Visit.formId(ctx, "cohort", "Choose the cohort.");
    Cohort cohort = desk.people().cohort(cohortId)
        .orElseThrow(() -> Refusal.notFound("There is no such cohort."));
    LocalDate day = day(ctx);
    int minutes = minutes(ctx, false);
    String what = Visit.formText(ctx, "what").filter(w -> w.length() <= LONGEST_WHAT).orElse("");
    Set<String> present = new HashSet<>(ctx.formParams("present"));
    List<BenchHours> entries = new ArrayList<>();
    Instant now = now();
    for (Person apprentice : desk.apprentices(cohort, false)) {
      if (present.contains(apprentice.id().toString())) {
        entries.add(new BenchHours(
            UUID.randomUUID(), apprentice.id(), day, minutes, what, by.id(), by.fullName(), now, Optional.empty(), ""));
      }
    }
    if (entries.isEmpty()) {
      throw Refusal.invalid("Tick those who were at the bench.");
    }
    hours.add(entries);
    Page.goTo(
        ctx, "/hours?cohort=" + cohortId,
        BenchHours.inWords(minutes) + " entered for " + entries.size() + (entries.size() == 1 ? " apprentice." : " apprentices."));
  }

  private Instant now() {
    return desk.clock().instant().truncatedTo(ChronoUnit.MILLIS);
  }

  private LocalDate day(Context ctx) {
    try {
      return Visit.formText(ctx, "day").map(LocalDate::parse).filter(d -> !d.isAfter(desk.today()))
          .orElseThrow(() -> Refusal.invalid("Give the day, today or before."));
    } catch (DateTimeParseException e) {
      throw Refusal.invalid("Give the day like 2026-11-25.");
    }
  }

  private static int minutes(Context ctx, boolean mayBeNone) {
    try {
      int minutes = Visit.formText(ctx, "hours")
          .map(text -> new BigDecimal(text.replace(',', '.')).multiply(BigDecimal.valueOf(60)).intValue()).orElse(-1);
      if (minutes < (mayBeNone ? 0 : 1) || minutes > 24 * 60) {
        throw Refusal.invalid("Give the hours of one day, such as 3 or 2.5.");
      }
      return minutes;
    } catch (NumberFormatException | ArithmeticException e) {
      throw Refusal.invalid("Give the hours as a number, such as 3 or 2.5.");
    }
  }

  private void correct(Context ctx) {
    Person by = Visit.person(ctx);
    BenchHours wrong = hours.find(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such entry of hours."));
    String reason = Visit.formText(ctx, "reason")
        .orElseThrow(() -> Refusal.invalid("Give the reason of the correction."));
    if (hours.isCorrected(wrong.id())) {
      throw Refusal.conflict("This entry was corrected before; correct the later one.");
    }
    hours.add(List.of(new BenchHours(
        UUID.randomUUID(), wrong.apprentice(), wrong.day(), minutes(ctx, true), wrong.what(), by.id(), by.fullName(),
        now(), Optional.of(wrong.id()), reason)));
    String cohort = desk.people().cohortsOf(wrong.apprentice()).stream().findFirst().map(c -> "?cohort=" + c.id()).orElse("");
    Page.goTo(ctx, "/hours" + cohort, "The correction is entered; the first entry stays beneath it.");
  }
}
