package ferrule.competency;

import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.OnlyOwn;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** An apprentice's own record: what is complete, on what evidence, and what is left. */
public final class CompetencyPages implements Pages {

  private static final int LONGEST_REASON = 1_000;

  private final Desk desk;
  private final EquivalenceStore equivalences;
  private final HoursStore hours;

  /** The pages. */
  public CompetencyPages(Desk desk, EquivalenceStore equivalences, HoursStore hours) {
    this.desk = desk;
    this.equivalences = equivalences;
    this.hours = hours;
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("My record", "/record", 30, Access.APPRENTICE));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/record", ctx -> show(ctx, Visit.person(ctx)), Access.APPRENTICE);
    routes.get("/record/{id}", ctx -> show(ctx, apprentice(ctx)), Access.SIGNED_IN,
        OnlyOwn.self(Role.APPRENTICE, "id"));
    routes.post("/record/{id}/prior-learning", this::grant, Access.INSTRUCTOR, Access.COORDINATOR);
    routes.post("/prior-learning/{id}/withdrawal", this::withdraw, Access.INSTRUCTOR, Access.COORDINATOR);
  }

  private Person apprentice(Context ctx) {
    return desk.people().person(Visit.id(ctx, "id"))
        .filter(p -> p.role() == Role.APPRENTICE)
        .orElseThrow(() -> Refusal.notFound("There is no such apprentice."));
  }

  /** The moment that the request asks about. */
  public static AsOf asOf(Context ctx, Desk desk) {
    return asOf(Visit.queryText(ctx, "as-of"), desk);
  }

  /** The moment of this day, such as {@code 2026-11-25}; the present if none is given. Anything else is refused. */
  public static AsOf asOf(Optional<String> day, Desk desk) {
    try {
      // years of four digits: days beyond them cannot be counted back from
      if (day.filter(text -> !text.matches("[12][0-9]{3}-[0-9]{2}-[0-9]{2}")).isPresent()) {
        throw new IllegalArgumentException("not a day of a school: " + day.get());
      }
      return desk.asOf(day);
    } catch (IllegalArgumentException e) {
      throw Refusal.invalid("Give the date like 2026-11-25.");
    }
  }

  /** The edition that the request asks for, if it asks for one. */
  public static Optional<Programme> edition(Context ctx, Desk desk) {
    return Visit.queryText(ctx, "edition").map(edition -> desk.competencies().find(edition)
        .orElseThrow(() -> Refusal.notFound("No edition " + edition + " of the programme is kept here.")));
  }

  private void show(Context ctx, Person apprentice) {
    AsOf asOf = asOf(ctx, desk);
    Person reader = Visit.person(ctx);
    Optional<Programme> other = edition(ctx, desk);
    List<UUID> one = List.of(apprentice.id());
    Progress progress = other
        .map(edition -> desk.competencies().of(one, asOf.instant(), edition).get(apprentice.id()))
        .orElseGet(() -> desk.competencies().of(apprentice.id(), asOf.instant()));
    Programme programme = progress.programme();
    // the plan is that of the cohort by whose edition they are judged
    Optional<Stay> stay = desk.competencies().stay(apprentice.id(), asOf.day()).filter(s -> !s.isOver(asOf.day()));
    Optional<Cohort> cohort = stay.flatMap(s -> desk.people().cohort(s.cohort()));
    Optional<Pace> pace = cohort.map(Pace::of);
    Map<String, Object> model = new HashMap<>();
    model.put("apprentice", apprentice);
    model.put("own", apprentice.id().equals(reader.id()));
    model.put("staff", reader.role() != Role.APPRENTICE);
    model.put("asOf", asOf);
    model.put("programme", programme);
    model.put("otherEdition", other.isPresent());
    model.put("areas", AreaView.of(progress, pace, asOf, desk.zone()));
    model.put("left", LeftView.of(progress, pace, asOf));
    model.put("ahead", cohort.flatMap(c -> ahead(progress, stay.orElseThrow(), c, asOf)).stream().toList());
    model.put("complete", progress.complete());
    model.put("all", progress.verdicts().size());
    model.put("hours", HoursView.of(BenchHours.counting(hours.about(one, asOf.instant()))));
    model.put("grants", equivalences.of(one, asOf.instant()).stream()
        .map(e -> GrantView.of(e, programme, desk.zone())).toList());
    Page.show(ctx, "competency/record", model);
  }

  /** The way ahead of somebody who has begun and is not done. */
  private Optional<AheadView> ahead(Progress progress, Stay stay, Cohort cohort, AsOf asOf) {
    LocalDate since = stay.joinedOn().isAfter(cohort.startsOn()) ? stay.joinedOn() : cohort.startsOn();
    return Optional.of(desk.competencies().course(progress, since, asOf.day()))
        .filter(course -> course.left() > 0 && course.days() > 0)
        .map(course -> AheadView.of(progress, course, cohort, asOf.day()));
  }

  /** A competency that is not complete and what is left of it; what is due first, then what is nearest. */
  record LeftView(String id, String title, List<String> missing, String hint, boolean behind, boolean lapsed, int cost) {

    static List<LeftView> of(Progress progress, Optional<Pace> pace, AsOf asOf) {
      return progress.programme().competencies().stream()
          .filter(c -> !progress.of(c.id()).isMet())
          .map(c -> of(c, progress.of(c.id()), pace, asOf))
          .sorted(Comparator.comparing(LeftView::isDue).reversed().thenComparingInt(LeftView::cost))
          .toList();
    }

    private boolean isDue() {
      return behind || lapsed;
    }

    private static LeftView of(Competency c, Verdict v, Optional<Pace> pace, AsOf asOf) {
      return new LeftView(
          c.id(), c.title(), v.missing().stream().map(Gap::inWords).map(AreaView::capital).toList(),
          v.hint().map(h -> h + ".").orElse(""), pace.filter(p -> p.isBehind(c, v, asOf.day())).isPresent(),
          v.isLapsed(), v.cost());
    }
  }

  /** Hours at the bench: in all, and the latest entries. */
  record HoursView(String total, List<Session> latest) {

    /** One entry. */
    record Session(String day, String time, String what) {}

    private static final int SHOWN = 12;

    static HoursView of(List<BenchHours> counting) {
      int total = counting.stream().mapToInt(BenchHours::minutes).sum();
      List<Session> latest = counting.stream()
          .sorted(Comparator.comparing(BenchHours::day).reversed()).limit(SHOWN)
          .map(h -> new Session(AsOf.inWords(h.day()), BenchHours.inWords(h.minutes()), h.what())).toList();
      return new HoursView(BenchHours.inWords(total), latest);
    }
  }

  /** Prior learning that was granted. */
  record GrantView(UUID id, String competency, String reason, String by, String on, String until) {

    static GrantView of(Equivalence e, Programme programme, ZoneId zone) {
      return new GrantView(
          e.id(), programme.find(e.competency()).map(Competency::title).orElse(e.competency()), e.reason(),
          e.grantedByName(), AsOf.inWords(LocalDate.ofInstant(e.grantedAt(), zone)),
          e.until().map(AsOf::inWords).orElse(""));
    }
  }

  private static String reason(Context ctx) {
    return Visit.formText(ctx, "reason").filter(r -> r.length() <= LONGEST_REASON)
        .orElseThrow(() -> Refusal.invalid("Give the reason, in at most " + LONGEST_REASON + " letters."));
  }

  private void grant(Context ctx) {
    Person apprentice = apprentice(ctx);
    Person by = Visit.person(ctx);
    Programme programme = desk.competencies().programmeOf(apprentice.id(), desk.clock().instant());
    Competency competency = Visit.formText(ctx, "competency").flatMap(programme::find)
        .orElseThrow(() -> Refusal.invalid("Choose the competency that the prior learning stands in for."));
    Optional<LocalDate> until = date(ctx);
    if (until.filter(day -> day.isBefore(desk.today())).isPresent()) {
      throw Refusal.invalid("The last day on which it counts lies in the past.");
    }
    equivalences.grant(new Equivalence(
        UUID.randomUUID(), apprentice.id(), competency.id(), reason(ctx), by.id(), by.fullName(),
        desk.clock().instant().truncatedTo(ChronoUnit.MILLIS), until));
    Page.goTo(
        ctx, "/record/" + apprentice.id(), "Prior learning entered for “" + competency.title() + "”; it is in the log.");
  }

  private static Optional<LocalDate> date(Context ctx) {
    try {
      return Visit.formText(ctx, "until").map(LocalDate::parse);
    } catch (DateTimeParseException e) {
      throw Refusal.invalid("Give the date like 2026-11-25.");
    }
  }

  private void withdraw(Context ctx) {
    Equivalence grant = equivalences.find(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such entry of prior learning."));
    Person by = Visit.person(ctx);
    if (!equivalences.withdraw(grant, reason(ctx), by, desk.clock().instant().truncatedTo(ChronoUnit.MILLIS))) {
      throw Refusal.conflict("This entry of prior learning was withdrawn before.");
    }
    Page.goTo(ctx, "/record/" + grant.apprentice(), "Prior learning withdrawn; that is in the log too.");
  }
}
