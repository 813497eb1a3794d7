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
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Collectors;

/** Setting a drill, changing it until somebody starts it, taking it back, and giving apprentices more time for it. */
final class SettingPages {

  private static final int DEFAULT_DAYS = 7;
  private static final List<Integer> SHARES = List.of(100, 125, 150, 200);

  private final PeopleStore people;
  private final AssignmentStore store;
  private final KnownStore known;
  private final Pictures pictures;
  private final Supplier<ItemBank> bank;
  private final PartNames names;
  private final Calendar calendar;

  SettingPages(
      PeopleStore people,
      AssignmentStore store,
      KnownStore known,
      Pictures pictures,
      Supplier<ItemBank> bank,
      PartNames names,
      Calendar calendar) {
    this.people = people;
    this.known = known;
    this.bank = bank;
    this.store = store;
    this.pictures = pictures;
    this.names = names;
    this.calendar = calendar;
  }

  void routes(RoutesConfig routes) {
    routes.get("/class/drills/new", this::showNew, Access.INSTRUCTOR);
    routes.post("/class/drills", this::set, Access.INSTRUCTOR);
    routes.get("/class/drills/{id}/edit", this::showEdit, Access.INSTRUCTOR);
    routes.post("/class/drills/{id}/edit", this::edit, Access.INSTRUCTOR);
    routes.post("/class/drills/{id}/withdraw", this::withdraw, Access.INSTRUCTOR);
    routes.post("/class/drills/{id}/restore", this::restore, Access.INSTRUCTOR);
    routes.get("/class/drills/{id}/time", this::showTime, Access.INSTRUCTOR);
    routes.post("/class/drills/{id}/time", this::giveTime, Access.INSTRUCTOR);
  }

  /** A cohort to choose, with those of it who can be picked. */
  record CohortChoice(String id, String title, boolean chosen, List<PersonChoice> members) {}

  /** Somebody to pick. */
  record PersonChoice(String id, String name, boolean chosen) {}

  /** What the form is for: a new drill, or one that is set. */
  private record Target(Optional<Assignment> assignment) {

    String action() {
      return assignment.map(a -> "/class/drills/" + a.id() + "/edit").orElse("/class/drills");
    }

    /** The plan that stays as it is because it names parts one by one, which the form does not. */
    Optional<Plan> fixedPlan() {
      return assignment.map(Assignment::plan).filter(p -> !p.parts().isEmpty());
    }
  }

  private static final Target NEW = new Target(Optional.empty());

  private void showNew(Context ctx) {
    LocalDate due = calendar.today().plusDays(DEFAULT_DAYS);
    showForm(ctx, NEW, DrillForm.blank(bank.get(), people.cohorts(), due), List.of(), Optional.empty());
  }

  private void showForm(
      Context ctx, Target target, DrillForm form, List<String> problems, Optional<Preview> preview) {
    ItemPool pool = pictures.pool();
    List<QuestionsForm.Assembly> assemblies = form.questions().assemblyChoices(bank.get(), names);
    Map<String, Object> model = new HashMap<>();
    model.put("questions", form.questions());
    model.put("preview", preview.orElse(null));
    model.put("form", form);
    model.put("conditions", form.conditions());
    model.put("problems", problems);
    model.put("assemblies", assemblies);
    model.put("total", pool.parts().size());
    model.put("inScope", assemblies.stream().filter(QuestionsForm.Assembly::chosen).mapToInt(QuestionsForm.Assembly::parts).sum());
    model.put("longest", Plan.LONGEST);
    model.put("longestTitle", Assignment.LONGEST_TITLE);
    model.put("mostAttempts", Conditions.MOST_ATTEMPTS);
    model.put("longestLimit", Conditions.LONGEST_LIMIT);
    model.put("grace", Deadline.GRACE.toSeconds());
    model.put("cohorts", choices(form));
    model.put("today", calendar.today().toString());
    model.put("zone", calendar.zone().getId());
    model.put("action", target.action());
    model.put("leave", target.assignment().map(a -> "/class/drills/" + a.id()).orElse("/class"));
    model.put("editing", target.assignment().isPresent());
    model.put("fixed", target.fixedPlan().map(p -> PlanView.of(p, pool, names).scope()).orElse(""));
    Page.show(ctx, "drill/set", model);
  }

  private List<CohortChoice> choices(DrillForm form) {
    return people.cohorts().stream()
        .map(
            c ->
                new CohortChoice(
                    c.id().toString(),
                    c.title(),
                    c.id().toString().equals(form.cohort()),
                    people.members(c.id()).stream()
                        .map(p -> new PersonChoice(p.id().toString(), p.fullName(), form.people().contains(p.id())))
                        .toList()))
        .toList();
  }

  private Map<UUID, Set<UUID>> members() {
    Map<UUID, Set<UUID>> members = new LinkedHashMap<>();
    people.cohorts().forEach(c -> members.put(c.id(), ids(people.members(c.id()))));
    return members;
  }

  private static Set<UUID> ids(Collection<Person> persons) {
    return persons.stream().map(Person::id).collect(Collectors.toSet());
  }

  private void set(Context ctx) {
    read(ctx, NEW)
        .ifPresent(
            a -> {
              store.add(a);
              String note = "Set for " + whom(a) + ", " + calendar.due(a.conditions())
                  + ". It can be changed and withdrawn until somebody starts it.";
              Page.goTo(ctx, "/class/drills/" + a.id(), note);
            });
  }

  private String whom(Assignment a) {
    String cohort = people.cohort(a.cohort()).map(Cohort::title).orElse("");
    return a.chosen().isEmpty() ? cohort : a.chosen().size() + " of " + cohort;
  }

  /** The assignment that a form makes; empty, with the form shown again, if something is wrong with it. */
  private Optional<Assignment> read(Context ctx, Target target) {
    DrillForm form = DrillForm.of(ctx.formParamMap());
    List<String> ofQuestions =
        target.fixedPlan().isPresent() ? List.of() : form.questions().problems(bank.get());
    if (Visit.formText(ctx, "preview").isPresent()) {
      Optional<Preview> preview = ofQuestions.isEmpty() ? Optional.of(preview(form)) : Optional.empty();
      showForm(ctx, target, form, ofQuestions, preview);
      return Optional.empty();
    }
    Map<UUID, Set<UUID>> members = members();
    LocalDateTime now = LocalDateTime.ofInstant(calendar.now(), calendar.zone());
    List<String> problems = new ArrayList<>(ofQuestions);
    problems.addAll(form.problems(members, now));
    if (!problems.isEmpty()) {
      ctx.status(400);
      showForm(ctx, target, form, problems, Optional.empty());
      return Optional.empty();
    }
    QuestionsForm questions = form.questions();
    Plan plan =
        target.fixedPlan()
            .map(p -> p.withColloquial(questions.colloquial()))
            .orElseGet(() -> questions.plan(bank.get()));
    return Optional.of(
        new Assignment(
            target.assignment().map(Assignment::id).orElseGet(UUID::randomUUID),
            form.cohortId().orElseThrow(),
            form.chosen(members),
            target.assignment().map(Assignment::setBy).orElseGet(() -> Visit.person(ctx).id()),
            form.title().isEmpty() ? PlanView.title(plan, pictures.pool(), names) : form.title(),
            plan,
            form.conditions().conditions(),
            target.assignment().map(Assignment::setAt).orElseGet(calendar::now),
            Optional.empty()));
  }

  /** What the drill will be like for those who are to take it. */
  private Preview preview(DrillForm form) {
    List<UUID> takers =
        form.cohortId().stream()
            .flatMap(cohort -> people.members(cohort).stream())
            .map(Person::id)
            .filter(p -> !form.some() || form.people().contains(p))
            .toList();
    Chances chances = Chances.of(known.knowledge(takers), takers);
    return Preview.of(bank.get(), chances, form.questions().plan(bank.get()), names, 0);
  }

  private void showEdit(Context ctx) {
    Assignment a = find(ctx);
    if (a.withdrawnAt().isPresent() || store.isStarted(a.id())) {
      throw tooLate();
    }
    showForm(ctx, new Target(Optional.of(a)), DrillForm.of(a), List.of(), Optional.empty());
  }

  private void edit(Context ctx) {
    read(ctx, new Target(Optional.of(find(ctx))))
        .ifPresent(
            a -> {
              if (!store.edit(a)) {
                throw tooLate();
              }
              Page.goTo(ctx, "/class/drills/" + a.id(), "Changed. Nobody had started it.");
            });
  }

  private static Refusal tooLate() {
    return Refusal.conflict(
        "Somebody has started this drill, or it has been withdrawn. Nothing was changed, so that everybody gets the same "
            + "drill.");
  }

  private void withdraw(Context ctx) {
    Assignment a = find(ctx);
    if (!store.withdraw(a.id(), calendar.now())) {
      throw Refusal.conflict("Somebody has started this drill, or it has been withdrawn already. Nothing was changed.");
    }
    Page.goTo(ctx, "/class/drills/" + a.id(), "Withdrawn. Nobody had started it, and nobody can now.");
  }

  private void restore(Context ctx) {
    Assignment a = find(ctx);
    store.restore(a.id());
    Page.goTo(ctx, "/class/drills/" + a.id(), "Set again, as it was.");
  }

  private Assignment find(Context ctx) {
    return store
        .find(Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("There is no such drill. The list of drills is under Class."));
  }

  // -- more time

  /** The time that one apprentice has. */
  record TimeRow(String id, String name, int percent, int extra, String comes) {}

  private void showTime(Context ctx) {
    Assignment a = find(ctx);
    List<Person> takers = people.members(a.cohort()).stream().filter(p -> a.isFor(p.id())).toList();
    Map<UUID, Pace> paces = store.paces(a.id(), ids(takers));
    Map<String, Object> model = new HashMap<>();
    model.put("assignment", a.id());
    model.put("title", a.title());
    model.put("limit", a.conditions().limit().map(l -> ConditionsView.minutes(l.toMinutes())).orElse(""));
    model.put("shares", SHARES);
    model.put("mostMinutes", Pace.MOST_MINUTES);
    model.put("rows", takers.stream().map(p -> row(a, p, paces.getOrDefault(p.id(), Pace.PLAIN))).toList());
    Page.show(ctx, "drill/time", model);
  }

  private static TimeRow row(Assignment a, Person p, Pace pace) {
    String comes = a.conditions().limit().map(l -> ConditionsView.minutes(pace.of(l).toMinutes())).orElse("");
    return new TimeRow(p.id().toString(), p.fullName(), pace.percent(), pace.extraMinutes(), comes);
  }

  private void giveTime(Context ctx) {
    Assignment a = find(ctx);
    List<Person> takers = people.members(a.cohort()).stream().filter(p -> a.isFor(p.id())).toList();
    Map<UUID, Pace> wanted = new LinkedHashMap<>();
    takers.forEach(p -> wanted.put(p.id(), pace(ctx, p)));
    Map<UUID, Pace> now = store.paces(a.id(), ids(takers));
    int changed = 0;
    for (Map.Entry<UUID, Pace> w : wanted.entrySet()) {
      if (!w.getValue().equals(now.getOrDefault(w.getKey(), Pace.PLAIN))) {
        store.give(a.id(), w.getKey(), w.getValue(), Visit.person(ctx).id(), calendar.now());
        changed++;
      }
    }
    Page.goTo(
        ctx,
        "/class/drills/" + a.id() + "/time",
        changed == 0
            ? "Nothing was changed."
            : "Kept. It holds at once, for attempts under way too. Only instructors see it.");
  }

  private static Pace pace(Context ctx, Person p) {
    int percent = number(ctx, "percent-" + p.id()).orElse(Pace.USUAL);
    int extra = number(ctx, "extra-" + p.id()).orElse(0);
    if (percent < Pace.USUAL || percent > Pace.MOST || extra > Pace.MOST_MINUTES) {
      throw Refusal.invalid(
          "The time for " + p.fullName() + " is out of range: 1 to 4 times the limit, and up to " + Pace.MOST_MINUTES
              + " minutes more. Nothing was changed.");
    }
    return new Pace(percent, extra);
  }

  private static Optional<Integer> number(Context ctx, String field) {
    Optional<String> text = Visit.formText(ctx, field);
    if (text.filter(t -> !t.matches("[0-9]{1,4}")).isPresent()) {
      throw Refusal.invalid("Give minutes as a whole number. Nothing was changed.");
    }
    return text.map(Integer::parseInt);
  }
}
