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
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

/** The instructor's side: what is set, how far everyone is, and what is mixed up. */
final class ClassPages {

  private static final int MIX_UPS_AT_HOME = 8;
  private static final int LOOSEST_AT_HOME = 8;
  private static final int RECENT_WEEKS = 8;

  private final PeopleStore people;
  private final DrillStore store;
  private final RulingBook rulings;
  private final Pictures pictures;
  private final PartNames names;
  private final KnownView known;
  private final Calendar calendar;
  private final SittingView sittingView;
  private final Turns turns;
  private final ProgressView progress;

  ClassPages(
      PeopleStore people,
      DrillStore store,
      RulingBook rulings,
      Pictures pictures,
      PartNames names,
      Calendar calendar,
      SittingView sittingView,
      Turns turns) {
    this.people = people;
    this.store = store;
    this.rulings = rulings;
    this.pictures = pictures;
    this.names = names;
    this.known = new KnownView(store.known(), pictures, names);
    this.calendar = calendar;
    this.sittingView = sittingView;
    this.turns = turns;
    this.progress = new ProgressView(people, store, turns, names, calendar);
  }

  void routes(RoutesConfig routes) {
    routes.get("/class", this::home, Access.INSTRUCTOR);
    routes.get("/class/drills/{id}", this::assignment, Access.INSTRUCTOR);
    routes.get("/class/drills/{id}/progress", this::progress, Access.INSTRUCTOR);
    routes.get("/class/sittings/{id}", this::sitting, Access.INSTRUCTOR);
  }

  /** An assignment in the instructor's list. */
  record Row(
      UUID id, String title, String cohort, String due, boolean past, int done, int begun, int members, int percent) {}

  /** A drill that was taken back, in the instructor's list. */
  record TakenBack(UUID id, String title, String cohort, String due) {}

  /** One part taken for another, in words. */
  record MixUpRow(String asked, String takenFor, int times, int people) {}

  /** How hard a part was, in words. */
  record PartRow(String part, int asked, int percent) {}

  private void home(Context ctx) {
    List<Cohort> everyCohort = people.cohorts();
    Map<UUID, Cohort> cohorts = everyCohort.stream().collect(Collectors.toMap(Cohort::id, Function.identity()));
    boolean older = ctx.queryParam("older") != null;
    List<Assignment> all = store.assignments().standing();
    List<Assignment> set = older ? all : all.stream().filter(this::isRecent).toList();
    List<UUID> ids = set.stream().map(Assignment::id).toList();
    Map<String, Object> model = new HashMap<>();
    model.put("assignments", rows(set, cohorts));
    model.put("older", older);
    model.put("left", all.size() - set.size());
    model.put("weeks", RECENT_WEEKS);
    model.put(
        "withdrawn", store.assignments().withdrawn().stream().map(a -> takenBack(a, cohorts.get(a.cohort()))).toList());
    model.put("mixUps", store.mixUps(ids).stream().limit(MIX_UPS_AT_HOME).map(this::row).toList());
    model.put("hasCohorts", !cohorts.isEmpty());
    model.put("open", rulings.openCount());
    model.put("cohorts", everyCohort);
    model.put("loosest", LOOSEST_AT_HOME);
    model.put("cohort", null);
    model.put("known", null);
    chosenCohort(ctx, everyCohort).ifPresent(cohort -> addKnown(model, cohort));
    Page.show(ctx, "drill/class", model);
  }

  /** Whether a drill is to come, or was due a short while ago: what an instructor has in hand. */
  private boolean isRecent(Assignment a) {
    return !a.conditions().dueOn().isBefore(calendar.today().minusWeeks(RECENT_WEEKS));
  }

  private List<Row> rows(List<Assignment> set, Map<UUID, Cohort> cohorts) {
    Map<UUID, List<UUID>> members = new HashMap<>();
    return set.stream()
        .map(a -> row(a, cohorts.get(a.cohort()), members.computeIfAbsent(a.cohort(), this::membersOf)))
        .toList();
  }

  private List<UUID> membersOf(UUID cohort) {
    return people.members(cohort).stream().map(Person::id).toList();
  }

  /** The cohort that the address asks for, or the first. */
  private static Optional<Cohort> chosenCohort(Context ctx, List<Cohort> all) {
    String wanted = ctx.queryParam("cohort");
    return all.stream().filter(c -> c.id().toString().equals(wanted)).findFirst().or(() -> all.stream().findFirst());
  }

  private void addKnown(Map<String, Object> model, Cohort cohort) {
    List<UUID> members = membersOf(cohort.id());
    model.put("cohort", cohort);
    if (!members.isEmpty()) {
      model.put("known", known.ofClass(members, calendar.now()));
    }
  }

  private Row row(Assignment a, Cohort cohort, List<UUID> members) {
    Collection<Turn> standing = turns.ofEveryone(a, members).values();
    List<SittingSummary> counted = standing.stream().flatMap(t -> t.counted().stream()).toList();
    return new Row(
        a.id(),
        a.title(),
        takers(a, cohort),
        calendar.dueDay(a.conditions()),
        calendar.isPast(a.conditions()),
        counted.size(),
        (int) standing.stream().filter(t -> !t.attempts().isEmpty()).count(),
        standing.size(),
        (int) counted.stream().mapToInt(SittingSummary::percent).average().orElse(0));
  }

  private TakenBack takenBack(Assignment a, Cohort cohort) {
    return new TakenBack(a.id(), a.title(), takers(a, cohort), calendar.dueDay(a.conditions()));
  }

  private static String takers(Assignment a, Cohort cohort) {
    return a.chosen().isEmpty() ? cohort.title() : a.chosen().size() + " of " + cohort.title();
  }

  private MixUpRow row(MixUp m) {
    return new MixUpRow(names.heading(m.asked()), names.term(m.takenFor()), m.times(), m.people());
  }

  private void assignment(Context ctx) {
    Assignment a = find(ctx);
    Cohort cohort = people.cohort(a.cohort()).orElseThrow();
    Map<String, Object> model = new HashMap<>();
    model.put("assignment", row(a, cohort, membersOf(cohort.id())));
    model.put("plan", PlanView.of(a.plan(), pictures.pool(), names));
    model.put("setBy", people.person(a.setBy()).map(Person::fullName).orElse(""));
    model.put("setAt", calendar.moment(a.setAt()));
    model.put("withdrawn", a.withdrawnAt().map(calendar::moment).orElse(""));
    model.put("progress", progress.of(a));
    model.put("asOf", calendar.time(calendar.now()));
    model.put("conditions", conditions(a));
    model.put("timed", a.conditions().limit().isPresent());
    model.put("several", a.conditions().attempts() > 1);
    model.put(
        "parts",
        store.partTallies(List.of(a.id())).stream()
            .map(t -> new PartRow(names.heading(t.part()), t.asked(), (int) Math.floor(100 * t.facility() + 1e-9)))
            .toList());
    model.put("mixUps", store.mixUps(List.of(a.id())).stream().map(this::row).toList());
    Page.show(ctx, "drill/assignment", model);
  }

  /** The table alone, for the page that watches it. */
  private void progress(Context ctx) {
    ctx.render("drill/progress-table.peb", Map.of("progress", progress.of(find(ctx))));
    ctx.contentType("text/html; charset=utf-8");
    String tag = "\"" + Integer.toHexString(ctx.result().hashCode()) + "\"";
    ctx.header("ETag", tag);
    if (tag.equals(ctx.header("If-None-Match"))) {
      ctx.status(304);
      ctx.result("");
    }
  }

  /** One condition in words. */
  record Fact(String heading, String words) {}

  private List<Fact> conditions(Assignment a) {
    Conditions c = a.conditions();
    List<Fact> facts = new ArrayList<>();
    c.opens().ifPresent(o -> facts.add(new Fact("Opens", calendar.moment(o))));
    facts.add(new Fact("Due", calendar.dueDay(c) + (calendar.isPast(c) ? ", past" : "")));
    facts.add(new Fact("Late work", c.lateWork() ? "accepted" : "not accepted, it closes when it is due"));
    facts.add(new Fact("Taken", ConditionsView.attempts(c)));
    facts.add(new Fact("Verdicts", ConditionsView.feedback(c)));
    c.limit().ifPresent(l -> facts.add(new Fact("Time limit", ConditionsView.minutes(l.toMinutes()))));
    return facts;
  }

  private Assignment find(Context ctx) {
    return store
        .assignments()
        .find(Visit.id(ctx, "id"))
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
}
