package ferrule.drill;

import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

/** The instructor's side: what is set, how far everyone is, what is mixed up, and setting a drill. */
final class ClassPages {

  private static final int MIX_UPS_AT_HOME = 8;
  private static final int LOOSEST_AT_HOME = 8;
  private static final int DEFAULT_DAYS = 7;

  private final PeopleStore people;
  private final DrillStore store;
  private final RulingBook rulings;
  private final Pictures pictures;
  private final PartNames names;
  private final KnownView known;
  private final Calendar calendar;
  private final SittingView sittingView;

  ClassPages(
      PeopleStore people,
      DrillStore store,
      RulingBook rulings,
      Pictures pictures,
      PartNames names,
      Calendar calendar,
      SittingView sittingView) {
    this.people = people;
    this.store = store;
    this.rulings = rulings;
    this.pictures = pictures;
    this.names = names;
    this.known = new KnownView(store.known(), pictures, names);
    this.calendar = calendar;
    this.sittingView = sittingView;
  }

  void routes(RoutesConfig routes) {
    routes.get("/class", this::home, Access.INSTRUCTOR);
    routes.get("/class/drills/new", this::showForm, Access.INSTRUCTOR);
    routes.post("/class/drills", this::set, Access.INSTRUCTOR);
    routes.get("/class/drills/{id}", this::assignment, Access.INSTRUCTOR);
    routes.post("/class/drills/{id}/withdraw", this::withdraw, Access.INSTRUCTOR);
    routes.get("/class/sittings/{id}", this::sitting, Access.INSTRUCTOR);
  }

  /** An assignment in the instructor's list. */
  record Row(
      UUID id, String title, String cohort, String due, boolean past, int done, int begun, int members, int percent) {}

  /** One part taken for another, in words. */
  record MixUpRow(String asked, String takenFor, int times, int people) {}

  /** How hard a part was, in words. */
  record PartRow(String part, int asked, int percent) {}

  /** How far one apprentice is with an assignment. */
  record ProgressRow(
      String name,
      String state,
      String word,
      int answered,
      int length,
      int percent,
      Optional<UUID> sitting,
      String when) {}

  private void home(Context ctx) {
    Map<UUID, Cohort> cohorts =
        people.cohorts().stream().collect(Collectors.toMap(Cohort::id, Function.identity()));
    List<Assignment> set = store.assignments();
    List<UUID> ids = set.stream().map(Assignment::id).toList();
    Map<String, Object> model = new HashMap<>();
    model.put("assignments", set.stream().map(a -> row(a, cohorts.get(a.cohort()))).toList());
    model.put("mixUps", store.mixUps(ids).stream().limit(MIX_UPS_AT_HOME).map(this::row).toList());
    model.put("hasCohorts", !cohorts.isEmpty());
    model.put("open", rulings.open().size());
    model.put("cohorts", people.cohorts());
    model.put("loosest", LOOSEST_AT_HOME);
    chosenCohort(ctx).ifPresent(cohort -> addKnown(model, cohort));
    Page.show(ctx, "drill/class", model);
  }

  /** The cohort that the address asks for, or the first. */
  private Optional<Cohort> chosenCohort(Context ctx) {
    List<Cohort> all = people.cohorts();
    String wanted = ctx.queryParam("cohort");
    return all.stream().filter(c -> c.id().toString().equals(wanted)).findFirst().or(() -> all.stream().findFirst());
  }

  private void addKnown(Map<String, Object> model, Cohort cohort) {
    List<UUID> members = people.members(cohort.id()).stream().map(Person::id).toList();
    model.put("cohort", cohort);
    if (!members.isEmpty()) {
      model.put("known", known.ofClass(members, calendar.now()));
    }
  }

  private Row row(Assignment a, Cohort cohort) {
    List<Person> members = people.members(a.cohort());
    List<SittingSummary> begun = store.sittingsFor(a.id());
    List<SittingSummary> done = begun.stream().filter(SittingSummary::isDone).toList();
    int percent = (int) done.stream().mapToInt(SittingSummary::percent).average().orElse(0);
    return new Row(
        a.id(),
        a.title(),
        cohort.title(),
        calendar.day(a.dueOn()),
        calendar.isPast(a.dueOn()),
        done.size(),
        begun.size(),
        Math.max(members.size(), begun.size()),
        percent);
  }

  private MixUpRow row(MixUp m) {
    return new MixUpRow(names.heading(m.asked()), names.term(m.takenFor()), m.times(), m.people());
  }

  private void assignment(Context ctx) {
    Assignment a = find(ctx);
    Cohort cohort = people.cohort(a.cohort()).orElseThrow();
    List<SittingSummary> sittings = store.sittingsFor(a.id());
    Map<String, Object> model = new HashMap<>();
    model.put("assignment", row(a, cohort));
    model.put("plan", PlanView.of(a.plan(), pictures.pool(), names));
    model.put("setBy", people.person(a.setBy()).map(Person::fullName).orElse(""));
    model.put("setAt", calendar.moment(a.setAt()));
    model.put("withdrawn", a.withdrawnAt().map(calendar::moment).orElse(""));
    model.put("progress", progress(a, sittings));
    model.put(
        "parts",
        store.partTallies(List.of(a.id())).stream()
            .map(t -> new PartRow(names.heading(t.part()), t.asked(), (int) Math.floor(100 * t.facility() + 1e-9)))
            .toList());
    model.put("mixUps", store.mixUps(List.of(a.id())).stream().map(this::row).toList());
    Page.show(ctx, "drill/assignment", model);
  }

  private List<ProgressRow> progress(Assignment a, List<SittingSummary> sittings) {
    Map<UUID, SittingSummary> byPerson =
        sittings.stream().collect(Collectors.toMap(SittingSummary::person, Function.identity(), (x, y) -> x));
    List<Person> everyone = new ArrayList<>(people.members(a.cohort()));
    // someone who left the cohort since keeps a place in the list if they began
    people.membersEver(a.cohort()).stream()
        .filter(p -> byPerson.containsKey(p.id()) && everyone.stream().noneMatch(e -> e.id().equals(p.id())))
        .forEach(everyone::add);
    return everyone.stream().map(p -> progress(a, p, Optional.ofNullable(byPerson.get(p.id())))).toList();
  }

  private ProgressRow progress(Assignment a, Person p, Optional<SittingSummary> begun) {
    if (begun.isEmpty()) {
      String word = calendar.isPast(a.dueOn()) ? "Not taken" : "Not started";
      String state = calendar.isPast(a.dueOn()) ? "bad" : "";
      return new ProgressRow(p.fullName(), state, word, 0, 0, 0, Optional.empty(), "");
    }
    SittingSummary s = begun.get();
    String when = s.lastAnswerAt().map(calendar::moment).orElseGet(() -> calendar.moment(s.startedAt()));
    boolean late = s.isDone() && !calendar.isOnTime(s.lastAnswerAt().orElseThrow(), a.dueOn());
    String word = s.isDone() ? (late ? "Done late" : "Done") : "In progress";
    return new ProgressRow(
        p.fullName(),
        s.isDone() ? "good" : "open",
        word,
        s.answered(),
        s.length(),
        s.percent(),
        Optional.of(s.id()),
        when);
  }

  private void withdraw(Context ctx) {
    Assignment a = find(ctx);
    if (!store.withdraw(a.id(), calendar.now())) {
      throw Refusal.conflict("Somebody has started this drill, or it has been withdrawn already. Nothing was changed.");
    }
    Page.goTo(ctx, "/class", "Withdrawn: " + a.title() + ". Nobody had started it.");
  }

  private Assignment find(Context ctx) {
    return store
        .assignment(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such drill. The list of drills is under Class."));
  }

  private void sitting(Context ctx) {
    Sitting sitting =
        store
            .sitting(Visit.id(ctx, "id"))
            .orElseThrow(() -> Refusal.notFound("Nobody has taken a drill under this address."));
    String name = people.person(sitting.person()).map(Person::fullName).orElse("");
    Map<String, Object> model = new HashMap<>(sittingView.result(sitting));
    model.put("name", name);
    model.put("assignmentId", sitting.assignment().map(UUID::toString).orElse(""));
    Page.show(ctx, "drill/one-sitting", model);
  }

  // -- setting a drill

  private void showForm(Context ctx) {
    LocalDate due = calendar.today().plusDays(DEFAULT_DAYS);
    showForm(ctx, DrillForm.blank(pictures.pool(), people.cohorts(), due), List.of());
  }

  private void showForm(Context ctx, DrillForm form, List<String> problems) {
    ItemPool pool = pictures.pool();
    List<AssemblyChoice> assemblies =
        pool.assemblies().stream()
            .map(
                a ->
                    new AssemblyChoice(
                        a.value(),
                        PartNames.capital(names.scope(a)),
                        pool.sizeOf(a),
                        form.assemblies().contains(a)))
            .toList();
    Map<String, Object> model = new HashMap<>();
    model.put("form", form);
    model.put("problems", problems);
    model.put("assemblies", assemblies);
    model.put("total", pool.parts().size());
    model.put("inScope", assemblies.stream().filter(AssemblyChoice::chosen).mapToInt(AssemblyChoice::parts).sum());
    model.put("longest", Plan.LONGEST);
    model.put("longestTitle", Assignment.LONGEST_TITLE);
    model.put("cohorts", people.cohorts());
    model.put("today", calendar.today().toString());
    Page.show(ctx, "drill/set", model);
  }

  /** An assembly to pick. */
  record AssemblyChoice(String id, String term, int parts, boolean chosen) {}

  private void set(Context ctx) {
    ItemPool pool = pictures.pool();
    DrillForm form = DrillForm.of(ctx.formParamMap());
    List<String> problems = form.problems(pool, people.cohorts(), calendar.today());
    if (!problems.isEmpty()) {
      ctx.status(400);
      showForm(ctx, form, problems);
      return;
    }
    Plan plan = form.plan(pool);
    Cohort cohort = people.cohort(form.cohortId().orElseThrow()).orElseThrow();
    Assignment a =
        new Assignment(
            UUID.randomUUID(),
            cohort.id(),
            Visit.person(ctx).id(),
            form.title().isEmpty() ? PlanView.title(plan, pool, names) : form.title(),
            plan,
            form.dueDate().orElseThrow(),
            calendar.now(),
            Optional.empty());
    store.add(a);
    Page.goTo(
        ctx,
        "/class/drills/" + a.id(),
        "Set for " + cohort.title() + ", " + calendar.due(a.dueOn())
            + ". It can be withdrawn until somebody starts it.");
  }
}
