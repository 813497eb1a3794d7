package ferrule.roster;

import ferrule.people.Cohort;
import ferrule.people.Enrolment;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.UploadedFile;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Taking a roster in from a spreadsheet: what it would do is shown first, with every problem; then it is done. */
public final class RosterFilePages implements Pages {

  private final PeopleStore people;
  private final Clock clock;
  private final ZoneId zone;

  /**
   * The pages.
   *
   * @param zone the school's, for the day on which somebody joins
   */
  public RosterFilePages(PeopleStore people, Clock clock, ZoneId zone) {
    this.people = people;
    this.clock = clock;
    this.zone = zone;
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/people/roster", ctx -> show(ctx, Optional.empty()), Access.COORDINATOR);
    routes.post("/people/roster", this::lookOver, Access.COORDINATOR);
    routes.post("/people/roster/take-in", this::takeIn, Access.COORDINATOR);
  }

  /** Somebody who would be added or join, as a line of the page. */
  record Row(String name, String signInName, String role, String cohort) {}

  /**
   * What taking a file in would do.
   *
   * @param text of the file
   * @param cohort the id of the cohort that was chosen, or an empty text
   * @param shown by which it is noticed that something else would happen by now
   */
  record Look(
      String text, String cohort, RosterPlan plan, List<String> passedOver, List<Row> added, List<Row> joining, String shown) {}

  private RosterPlan.Present present() {
    List<Cohort> cohorts = people.cohorts();
    Map<UUID, Set<UUID>> members = new HashMap<>();
    cohorts.forEach(c -> members.put(
        c.id(), people.membersEver(c.id()).stream().map(Person::id).collect(Collectors.toCollection(HashSet::new))));
    List<Person> everyone = Stream.of(Role.values()).flatMap(r -> people.inRole(r).stream()).toList();
    return new RosterPlan.Present(everyone, cohorts, members);
  }

  private Look look(String text, String cohortId) {
    RosterPlan.Present present = present();
    Optional<Cohort> chosen = present.cohorts().stream().filter(c -> c.id().toString().equals(cohortId)).findFirst();
    RosterFile file = RosterFile.parse(text);
    RosterPlan plan = RosterPlan.of(file, chosen, present);
    Map<UUID, String> titles = present.cohorts().stream().collect(Collectors.toMap(Cohort::id, Cohort::title));
    List<Row> added = rows(plan.added(), titles);
    List<Row> joining = rows(plan.joining(), titles);
    return new Look(text, cohortId, plan, file.passedOver(), added, joining,
        Integer.toHexString(Objects.hash(added, joining)));
  }

  private static List<Row> rows(List<Enrolment> enrolments, Map<UUID, String> titles) {
    return enrolments.stream()
        .map(e -> new Row(
            e.person().fullName(), e.person().signInName(), e.person().role().word(),
            e.cohort().map(titles::get).orElse("")))
        .toList();
  }

  private void show(Context ctx, Optional<Look> look) {
    Map<String, Object> model = new HashMap<>();
    model.put("cohorts", people.cohorts());
    model.put("look", look.orElse(null));
    model.put("text", look.map(Look::text).orElse(""));
    model.put("cohort", look.map(Look::cohort).orElse(""));
    Page.show(ctx, "roster/roster", model);
  }

  private void lookOver(Context ctx) {
    Look look = look(text(ctx), Visit.formText(ctx, "cohort").orElse(""));
    if (!look.plan().problems().isEmpty()) {
      ctx.status(400);
    }
    show(ctx, Optional.of(look));
  }

  /** The file that was sent, or what was pasted. */
  private static String text(Context ctx) {
    UploadedFile file = ctx.isMultipart() ? ctx.uploadedFile("file") : null;
    if (file == null || file.size() == 0) {
      return Optional.ofNullable(ctx.formParam("text")).orElse("");
    }
    if (file.size() > 4L * RosterFile.MOST_CHARACTERS) {
      throw Refusal.invalid("The file is larger than a roster of " + RosterFile.MOST_LINES + " people. Split it.");
    }
    try (InputStream in = file.content()) {
      return RosterFile.decode(in.readAllBytes()).orElseThrow(() -> Refusal.invalid(
          "The file is not text in UTF-8. In your spreadsheet, save it as “CSV UTF-8” and send it again."));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void takeIn(Context ctx) {
    Look look = look(Optional.ofNullable(ctx.formParam("text")).orElse(""), Visit.formText(ctx, "cohort").orElse(""));
    boolean asShown = Visit.formText(ctx, "shown").filter(look.shown()::equals).isPresent();
    // somebody may have added people since: what was looked over is done, or nothing
    if (!look.plan().problems().isEmpty() || !asShown || !people.enrol(look.plan().enrolments(), today())) {
      ctx.status(409);
      show(ctx, Optional.of(look(look.text(), look.cohort())));
      return;
    }
    Page.goTo(ctx, "/people", said(look));
  }

  private LocalDate today() {
    return LocalDate.ofInstant(clock.instant(), zone);
  }

  private static String said(Look look) {
    int added = look.added().size();
    int joining = look.joining().size();
    if (added + joining == 0) {
      return "Nothing had to be done: all of them are there.";
    }
    return (added == 1 ? "One person is added" : added + " people are added")
        + (joining == 0 ? "" : ", " + joining + (joining == 1 ? " joins" : " join") + " a cohort")
        + (look.plan().unchanged() == 0 ? "" : "; " + look.plan().unchanged() + " were there already")
        + ". Invite each, so that they can choose a password.";
  }
}
