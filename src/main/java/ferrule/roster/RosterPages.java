package ferrule.roster;

import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Stream;

/** The coordinator's pages for cohorts, apprentices and instructors. */
public final class RosterPages implements Pages {

  private static final Duration INVITATION = Duration.ofDays(14);
  private static final int LONGEST_TITLE = 120;

  private final PeopleStore people;
  private final Supplier<List<EditionChoice>> editions;
  private final Clock clock;
  private final ZoneId zone;

  /**
   * The pages over this store.
   *
   * @param editions those of the curriculum that a new cohort can be pinned to, the usual one first
   * @param zone the school's zone, for the day on which somebody joins or leaves
   */
  public RosterPages(PeopleStore people, Supplier<List<EditionChoice>> editions, Clock clock, ZoneId zone) {
    this.people = people;
    this.editions = editions;
    this.clock = clock;
    this.zone = zone;
  }

  /** A person as a line of the page. */
  record Line(
      UUID id, String name, String signInName, boolean present, boolean notYetIn, boolean asks, String leftOn,
      boolean erased) {}

  /** A heading with its persons. */
  record Group(String title, String says, List<Line> lines) {}

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("People", "/people", 20, Access.COORDINATOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get("/people", ctx -> show(ctx, List.of()), Access.COORDINATOR);
    routes.post("/people", this::add, Access.COORDINATOR);
    routes.post("/people/cohorts", this::addCohort, Access.COORDINATOR);
    routes.post("/people/{id}/invitation", this::invite, Access.COORDINATOR);
    routes.post("/people/{id}/left", this::left, Access.COORDINATOR);
    routes.post("/people/{id}/back", this::back, Access.COORDINATOR);
  }

  private LocalDate today() {
    return LocalDate.ofInstant(clock.instant(), zone);
  }

  private void show(Context ctx, List<String> problems) {
    List<Cohort> cohorts = people.cohorts();
    Map<String, Object> model = new HashMap<>();
    model.put("problems", problems);
    model.put("cohorts", cohorts);
    model.put("groups", groups(cohorts));
    model.put("editions", editions.get());
    model.put("today", today());
    model.put("nextYear", today().plusMonths(9));
    for (String field : List.of("names", "title", "starts", "ends", "cohort", "role", "edition")) {
      model.put(field, Visit.formText(ctx, field).orElse(""));
    }
    Page.show(ctx, "roster/people", model);
  }

  private List<Group> groups(List<Cohort> cohorts) {
    Set<UUID> notYetIn = people.notYetIn();
    Set<UUID> asking = people.signIns().passwordsWanted().keySet();
    Set<UUID> erased = people.erased();
    List<Group> groups = new ArrayList<>();
    for (Cohort cohort : cohorts) {
      groups.add(
          new Group(
              cohort.title(),
              cohort.startsOn() + " to " + cohort.endsOn(),
              lines(people.membersEver(cohort.id()).stream(), notYetIn, asking, erased)));
    }
    groups.add(new Group("Instructors", "", lines(people.inRole(Role.INSTRUCTOR).stream(), notYetIn, asking, erased)));
    groups.add(new Group("Coordinators", "", lines(people.inRole(Role.COORDINATOR).stream(), notYetIn, asking, erased)));
    return groups;
  }

  private static List<Line> lines(Stream<Person> persons, Set<UUID> notYetIn, Set<UUID> asking, Set<UUID> erased) {
    return persons
        .map(p -> new Line(
            p.id(), p.fullName(), p.signInName(), p.isPresent(), notYetIn.contains(p.id()),
            asking.contains(p.id()), p.leftOn().map(LocalDate::toString).orElse(""), erased.contains(p.id())))
        .toList();
  }

  private void addCohort(Context ctx) {
    List<String> problems = new ArrayList<>();
    Optional<String> title = Visit.formText(ctx, "title").filter(t -> t.length() <= LONGEST_TITLE);
    Optional<LocalDate> starts = date(ctx, "starts");
    Optional<LocalDate> ends = date(ctx, "ends");
    if (title.isEmpty()) {
      problems.add("Give the cohort a title of up to " + LONGEST_TITLE + " characters, such as “First year”.");
    } else if (people.cohorts().stream().anyMatch(c -> c.title().equals(title.get()))) {
      problems.add("There is a cohort “" + title.get() + "” already. Give this one another title.");
    }
    if (starts.isEmpty() || ends.isEmpty() || ends.get().isBefore(starts.get())) {
      problems.add("Give the first and the last day of the programme, the last not before the first.");
    }
    Optional<String> edition = edition(ctx);
    if (edition.isEmpty()) {
      problems.add("Choose one of the editions of the curriculum that are kept here.");
    }
    if (!problems.isEmpty()) {
      ctx.status(400);
      show(ctx, problems);
      return;
    }
    people.add(new Cohort(UUID.randomUUID(), title.get(), edition.get(), starts.get(), ends.get()));
    Page.goTo(ctx, "/people", "The cohort “" + title.get() + "” is made. Now add its apprentices.");
  }

  private Optional<String> edition(Context ctx) {
    Optional<String> asked = Visit.formText(ctx, "edition");
    return editions.get().stream().map(EditionChoice::edition).filter(e -> asked.isEmpty() || asked.get().equals(e)).findFirst();
  }

  private static Optional<LocalDate> date(Context ctx, String field) {
    try {
      return Visit.formText(ctx, field).map(LocalDate::parse);
    } catch (DateTimeParseException e) {
      return Optional.empty();
    }
  }

  private void add(Context ctx) {
    Role role = Visit.formText(ctx, "role").filter(Role.INSTRUCTOR.word()::equals).map(Role::parse).orElse(Role.APPRENTICE);
    Optional<Cohort> cohort =
        Visit.formText(ctx, "cohort")
            .flatMap(id -> people.cohorts().stream().filter(c -> c.id().toString().equals(id)).findFirst());
    NameList list = NameList.parse(Visit.formText(ctx, "names").orElse(""), role, people::taken);
    List<String> problems = new ArrayList<>(list.problems());
    if (role == Role.APPRENTICE && cohort.isEmpty()) {
      problems.add("Choose the cohort that the apprentices join; make one first if there is none.");
    }
    if (!problems.isEmpty()) {
      ctx.status(400);
      show(ctx, problems);
      return;
    }
    people.enrol(list.persons(), cohort.filter(c -> role == Role.APPRENTICE).map(Cohort::id), today());
    int count = list.persons().size();
    Page.goTo(ctx, "/people", (count == 1 ? "One person is" : count + " people are")
        + " added. Invite each, so that they can choose a password.");
  }

  private void invite(Context ctx) {
    Person person = known(ctx);
    if (!person.isPresent()) {
      throw Refusal.invalid(person.fullName() + " has left. Take that back first.");
    }
    String token = people.invite(person.id(), INVITATION);
    Page.show(
        ctx,
        "roster/invitation",
        Map.of("invited", person, "link", Visit.address(ctx, "/invitation/" + token), "days", INVITATION.toDays()));
  }

  private void left(Context ctx) {
    Person person = known(ctx);
    if (person.equals(Visit.person(ctx))) {
      throw Refusal.invalid("You cannot note yourself as having left: nobody could take it back.");
    }
    people.leave(person.id(), today());
    Page.goTo(ctx, "/people", person.fullName() + " is noted as having left today. The record of their work stays.");
  }

  private void back(Context ctx) {
    Person person = known(ctx);
    if (people.erased().contains(person.id())) {
      throw Refusal.conflict(person.fullName() + " has been erased. There is no way back.");
    }
    if (!person.isPresent()) {
      people.comeBack(person.id());
    }
    Page.goTo(ctx, "/people", person.fullName() + " is back.");
  }

  private Person known(Context ctx) {
    return people.person(Visit.id(ctx, "id")).orElseThrow(() -> Refusal.notFound("There is no such person."));
  }
}
