package ferrule.drill;

import ferrule.glossary.ConceptId;
import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.web.Access;
import ferrule.web.OnlyOwn;
import ferrule.web.Page;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;

/** The apprentice's home: the instrument, what is due, what to practise, and a self-test. */
final class PractisePages {

  private static final int EARLIER = 6;
  private static final Set<Turn.State> SETTLED = EnumSet.of(Turn.State.AGAIN, Turn.State.OVER, Turn.State.MISSED);
  private static final List<Integer> LENGTHS = List.of(5, 10, 20, 40);

  private final PeopleStore people;
  private final DrillStore store;
  private final RulingStore rulings;
  private final Drills drills;
  private final Pictures pictures;
  private final PartNames names;
  private final KnownView known;
  private final Calendar calendar;
  private final Turns turns;

  PractisePages(
      PeopleStore people,
      DrillStore store,
      RulingStore rulings,
      Drills drills,
      Pictures pictures,
      PartNames names,
      Calendar calendar,
      Turns turns) {
    this.people = people;
    this.store = store;
    this.rulings = rulings;
    this.drills = drills;
    this.pictures = pictures;
    this.names = names;
    this.known = new KnownView(store.known(), pictures, names);
    this.calendar = calendar;
    this.turns = turns;
  }

  void routes(RoutesConfig routes) {
    routes.get("/practise", this::home, Access.APPRENTICE);
    OnlyOwn set = OnlyOwn.of(Role.APPRENTICE, "id", (me, id) -> Visit.uuid(id).flatMap(i -> setFor(me, i)).isPresent());
    routes.get("/practise/drills/{id}", this::before, Access.APPRENTICE, set);
    routes.post("/practise/drills/{id}", this::start, Access.APPRENTICE, set);
    routes.post("/practise/self-test", this::selfTest, Access.APPRENTICE);
    routes.post("/practise/now", this::now, Access.APPRENTICE);
    routes.post("/practise/changes/{id}", this::read, Access.APPRENTICE, OnlyOwn.of(
        Role.APPRENTICE, "id", (me, id) -> Visit.uuid(id).filter(i -> rulings.isChangeFor(me.id(), i)).isPresent()));
  }

  /**
   * An assignment as its apprentice sees it.
   *
   * @param when when it is due, opens or closes
   * @param brief what to know before starting
   * @param action what can be done now; empty for nothing
   * @param attempt the attempt that the action is about
   * @param look whether the action leads to the page that says what to expect, before anything starts
   * @param percent the points of the attempt that counts; empty if none is over
   * @param result the attempt that counts, if one is over
   */
  record Due(
      UUID id,
      String title,
      String when,
      boolean late,
      String state,
      String word,
      String brief,
      String action,
      int attempt,
      boolean look,
      int answered,
      int length,
      Optional<Integer> percent,
      Optional<UUID> result) {}

  /** An answer that counts otherwise since a ruling, in words. */
  record ChangeRow(UUID id, String said, String part, boolean changed, String points, String reason) {}

  /** A self-test that was taken or is under way. */
  record Earlier(UUID id, String title, String when, boolean done, int answered, int length, int percent) {}

  /** A ready-made mix of questions to choose. */
  record MixChoice(String word, String title) {

    static MixChoice of(Mix mix) {
      return new MixChoice(mix.word(), mix.title());
    }
  }

  /** An assembly to choose. */
  record Choice(String id, String term, int parts) {}

  private void home(Context ctx) {
    Person me = Visit.person(ctx);
    List<SittingSummary> sittings = store.sittingsOf(me.id());
    Map<String, Object> model = new HashMap<>();
    model.put("known", known.own(me.id(), calendar.now(), calendar.today().toEpochDay() + me.id().hashCode()));
    model.put("due", due(me, sittings));
    model.put("earlier", earlier(sittings));
    model.put("assemblies", assemblies());
    model.put("lengths", LENGTHS);
    model.put("mixes", Stream.of(Mix.values()).filter(m -> m != Mix.NAMES_AND_PLACES).map(MixChoice::of).toList());
    model.put("changes", rulings.changesFor(me.id()).stream().map(this::row).toList());
    Page.show(ctx, "drill/practise", model);
  }

  private ChangeRow row(Change c) {
    return new ChangeRow(
        c.regrade(),
        c.typed(),
        names.term(c.part()),
        c.before() != c.now().credit(),
        ResponseView.points(c.now().credit()),
        c.now().reason());
  }

  private void read(Context ctx) {
    rulings.read(Visit.person(ctx).id(), Visit.id(ctx, "id"), calendar.now());
    Page.goTo(ctx, "/practise");
  }

  private List<Choice> assemblies() {
    ItemPool pool = pictures.pool();
    return pool.assemblies().stream()
        .map(a -> new Choice(a.value(), PartNames.capital(names.scope(a)), pool.sizeOf(a)))
        .toList();
  }

  /** What is still to do by due date, then what is done, the latest first. */
  private List<Due> due(Person me, List<SittingSummary> sittings) {
    List<UUID> cohorts = people.cohortsOf(me.id()).stream().map(Cohort::id).toList();
    List<Turn> all =
        new ArrayList<>(
            store.assignments().standingFor(me.id(), cohorts).stream()
                .map(a -> turns.of(a, me.id(), sittings))
                .toList());
    List<Turn> done = all.stream().filter(t -> SETTLED.contains(t.state())).toList();
    all.removeAll(done);
    Collections.reverse(all);
    all.addAll(done);
    return all.stream().map(this::due).toList();
  }

  private Due due(Turn turn) {
    Assignment a = turn.assignment();
    Conditions c = a.conditions();
    Turn.State state = turn.state();
    boolean over = turn.counted().isPresent();
    boolean late = !over && calendar.isPast(c);
    int next = turn.attempts().size() + (state == Turn.State.UNDER_WAY ? 0 : 1);
    return new Due(
        a.id(),
        a.title(),
        when(turn),
        late,
        over && state != Turn.State.UNDER_WAY ? "good" : state == Turn.State.MISSED ? "bad"
            : state == Turn.State.UNDER_WAY || late ? "open" : "",
        word(turn),
        String.join(", ", ConditionsView.brief(c, turn.pace())),
        action(state),
        next,
        c.limit().isPresent() && state != Turn.State.UNDER_WAY,
        turn.latest().map(SittingSummary::answered).orElse(0),
        turn.latest().map(SittingSummary::length).orElse(a.plan().length()),
        turn.counted().map(SittingSummary::percent),
        turn.counted().map(SittingSummary::id));
  }

  private String when(Turn turn) {
    Conditions c = turn.assignment().conditions();
    if (turn.state() == Turn.State.AHEAD) {
      return "opens " + calendar.moment(c.opens().orElseThrow()) + ", " + calendar.due(c);
    }
    Optional<Deadline> closes = turn.state() == Turn.State.UNDER_WAY
        ? turn.latest().flatMap(turn::deadline).filter(Deadline::timeLimit)
        : Optional.empty();
    return closes.map(d -> "time runs until " + calendar.time(d.at())).orElseGet(() -> calendar.due(c));
  }

  private static String word(Turn turn) {
    return switch (turn.state()) {
      case AHEAD -> "Not open yet";
      case NEW -> "New";
      case UNDER_WAY -> "In progress";
      case MISSED -> "Closed";
      case AGAIN, OVER -> turn.latest().orElseThrow().isDone() ? "Done" : "Time ran out";
    };
  }

  private static String action(Turn.State state) {
    return switch (state) {
      case NEW -> "Start";
      case UNDER_WAY -> "Go on";
      case AGAIN -> "Take it again";
      default -> "";
    };
  }

  private List<Earlier> earlier(List<SittingSummary> sittings) {
    return sittings.stream()
        .filter(s -> s.assignment().isEmpty())
        .limit(EARLIER)
        .map(
            s ->
                new Earlier(
                    s.id(),
                    s.title(),
                    calendar.moment(s.lastAnswerAt().orElse(s.startedAt())),
                    s.isDone(),
                    s.answered(),
                    s.length(),
                    s.percent()))
        .toList();
  }

  private Assignment mine(Context ctx) {
    return setFor(Visit.person(ctx), Visit.id(ctx, "id"))
        .orElseThrow(() -> Refusal.notFound("This drill is not set for you. What is due is under Practise."));
  }

  private Optional<Assignment> setFor(Person me, UUID id) {
    return store
        .assignments()
        .find(id)
        .filter(a -> a.isFor(me.id()))
        .filter(a -> people.cohortsOf(me.id()).stream().anyMatch(c -> c.id().equals(a.cohort())));
  }

  /** What to expect, before the clock starts. */
  private void before(Context ctx) {
    Assignment a = mine(ctx);
    Turn turn = turns.of(a, Visit.person(ctx).id());
    if (turn.state() == Turn.State.UNDER_WAY) {
      Page.goTo(ctx, "/drill/" + turn.latest().orElseThrow().id());
      return;
    }
    Conditions c = a.conditions();
    Map<String, Object> model = new HashMap<>();
    model.put("id", a.id());
    model.put("title", a.title());
    model.put("due", PartNames.capital(calendar.due(c)));
    model.put("lateWork", c.lateWork());
    model.put("length", a.plan().length());
    model.put("time", c.limit().map(l -> ConditionsView.minutes(turn.pace().of(l).toMinutes())).orElse(""));
    model.put("grace", Deadline.GRACE.toSeconds());
    model.put("attempts", ConditionsView.attempts(c));
    model.put("attempt", turn.attempts().size() + 1);
    model.put("several", c.attempts() > 1);
    model.put("feedback", ConditionsView.feedback(c));
    model.put("action", action(turn.state()));
    model.put("why", why(turn));
    Page.show(ctx, "drill/before", model);
  }

  /** Why a drill cannot be started; empty if it can. */
  private String why(Turn turn) {
    Conditions c = turn.assignment().conditions();
    return switch (turn.state()) {
      case AHEAD -> "This drill opens " + calendar.moment(c.opens().orElseThrow()) + ".";
      case MISSED -> "This drill was due " + calendar.dueDay(c) + " and takes no late work. Ask your instructor.";
      case OVER -> "You have taken this drill as often as it may be taken.";
      default -> "";
    };
  }

  private void start(Context ctx) {
    Person me = Visit.person(ctx);
    Assignment assignment = mine(ctx);
    Turn turn = turns.of(assignment, me.id());
    int attempt = Visit.formText(ctx, "attempt").filter(n -> n.matches("[1-9]")).map(Integer::parseInt).orElse(1);
    Optional<SittingSummary> there = turn.attempts().stream().filter(s -> s.attempt() == attempt).findFirst();
    if (there.isPresent() || turn.state() == Turn.State.UNDER_WAY) {
      Page.goTo(ctx, "/drill/" + there.or(turn::latest).orElseThrow().id());
      return;
    }
    if (action(turn.state()).isEmpty()) {
      throw Refusal.conflict(why(turn));
    }
    Sitting sitting =
        drills
            .start(me, assignment, turn.attempts().size() + 1)
            .orElseThrow(() -> Refusal.conflict("Your instructor has withdrawn this drill. Nothing is lost."));
    Page.goTo(ctx, "/drill/" + sitting.id());
  }

  private void selfTest(Context ctx) {
    ItemPool pool = pictures.pool();
    Optional<ConceptId> one =
        Visit.formText(ctx, "assembly")
            .filter(ConceptId::isValid)
            .map(ConceptId::of)
            .filter(pool.assemblies()::contains);
    Set<ItemKind> kinds = kinds(Visit.formText(ctx, "kind").orElse("both"));
    int length =
        Visit.formText(ctx, "length").filter(l -> l.matches("[0-9]{1,2}")).map(Integer::parseInt).orElse(10);
    int inScope = one.map(pool::sizeOf).orElse(pool.parts().size());
    if (inScope == 0) {
      throw Refusal.notFound("The drawing shows no parts to ask for. Tell your instructor.");
    }
    int asked = Math.max(1, Math.min(length, Math.min(inScope, Plan.LONGEST)));
    List<ConceptId> assemblies = one.map(List::of).orElse(pool.assemblies());
    Plan plan =
        Visit.formText(ctx, "kind")
            .flatMap(Mix::find)
            .flatMap(mix -> drills.planOf(mix, assemblies, asked))
            .orElseGet(() -> Plan.ofAssemblies(assemblies, kinds, asked, true));
    Sitting sitting =
        drills
            .selfTest(Visit.person(ctx), "Self-test: " + PlanView.of(plan, pool, names).scope(), plan)
            .orElseThrow(
                () -> Refusal.notFound("There is nothing of that kind to ask about these parts. Choose others."));
    Page.goTo(ctx, "/drill/" + sitting.id());
  }

  private static Set<ItemKind> kinds(String word) {
    return switch (word) {
      case "name" -> EnumSet.of(ItemKind.NAME);
      case "find" -> EnumSet.of(ItemKind.FIND);
      default -> EnumSet.copyOf(ItemKind.usual());
    };
  }

  /** Practises the parts that the page proposed when it was shown. */
  private void now(Context ctx) {
    List<ConceptId> parts =
        ctx.formParams("part").stream()
            .filter(ConceptId::isValid)
            .map(ConceptId::of)
            .filter(part -> pictures.pool().find(part).isPresent())
            .limit(Plan.LONGEST)
            .toList();
    Sitting sitting =
        drills
            .practise(Visit.person(ctx), parts, EnumSet.copyOf(ItemKind.usual()), true)
            .orElseThrow(() -> Refusal.invalid("There is nothing to practise: no part was named that a drawing shows."));
    Page.goTo(ctx, "/drill/" + sitting.id());
  }
}
