package ferrule.drill;

import ferrule.glossary.ConceptId;
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
import java.util.Collections;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

/** The apprentice's home: the instrument, what is due, what to practise, and a self-test. */
final class PractisePages {

  private static final int EARLIER = 6;
  private static final List<Integer> LENGTHS = List.of(5, 10, 20, 40);

  private final PeopleStore people;
  private final DrillStore store;
  private final RulingStore rulings;
  private final Drills drills;
  private final Pictures pictures;
  private final PartNames names;
  private final KnownView known;
  private final Calendar calendar;

  PractisePages(
      PeopleStore people,
      DrillStore store,
      RulingStore rulings,
      Drills drills,
      Pictures pictures,
      PartNames names,
      Calendar calendar) {
    this.people = people;
    this.store = store;
    this.rulings = rulings;
    this.drills = drills;
    this.pictures = pictures;
    this.names = names;
    this.known = new KnownView(store.known(), pictures, names);
    this.calendar = calendar;
  }

  void routes(RoutesConfig routes) {
    routes.get("/practise", this::home, Access.APPRENTICE);
    routes.post("/practise/drills/{id}", this::start, Access.APPRENTICE);
    routes.post("/practise/self-test", this::selfTest, Access.APPRENTICE);
    routes.post("/practise/now", this::now, Access.APPRENTICE);
    routes.post("/practise/changes/{id}", this::read, Access.APPRENTICE);
  }

  /** An assignment as its apprentice sees it. */
  record Due(
      UUID id,
      String title,
      String due,
      boolean late,
      String state,
      String word,
      String action,
      int answered,
      int length,
      int percent,
      Optional<UUID> result) {}

  /** An answer that counts otherwise since a ruling, in words. */
  record ChangeRow(UUID id, String said, String part, boolean changed, String points, String reason) {}

  /** A self-test that was taken or is under way. */
  record Earlier(UUID id, String title, String when, boolean done, int answered, int length, int percent) {}

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
    Map<UUID, SittingSummary> byAssignment =
        sittings.stream()
            .filter(s -> s.assignment().isPresent())
            .collect(Collectors.toMap(s -> s.assignment().get(), Function.identity(), (later, earlier) -> later));
    List<Assignment> all = new ArrayList<>(store.assignmentsFor(cohorts));
    List<Assignment> done =
        all.stream()
            .filter(a -> Optional.ofNullable(byAssignment.get(a.id())).filter(SittingSummary::isDone).isPresent())
            .toList();
    all.removeAll(done);
    Collections.reverse(all);
    all.addAll(done);
    return all.stream().map(a -> due(a, Optional.ofNullable(byAssignment.get(a.id())))).toList();
  }

  private Due due(Assignment a, Optional<SittingSummary> begun) {
    boolean done = begun.filter(SittingSummary::isDone).isPresent();
    boolean late = !done && calendar.isPast(a.dueOn());
    int length = begun.map(SittingSummary::length).orElse(a.plan().length());
    return new Due(
        a.id(),
        a.title(),
        calendar.due(a.dueOn()),
        late,
        done ? "good" : begun.isPresent() || late ? "open" : "",
        done ? "Done" : begun.isPresent() ? "In progress" : "New",
        begun.isPresent() ? "Go on" : "Start",
        begun.map(SittingSummary::answered).orElse(0),
        length,
        begun.map(SittingSummary::percent).orElse(0),
        done ? begun.map(SittingSummary::id) : Optional.empty());
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

  private void start(Context ctx) {
    Person me = Visit.person(ctx);
    Assignment assignment =
        store
            .assignment(Visit.id(ctx, "id"))
            .filter(a -> people.cohortsOf(me.id()).stream().anyMatch(c -> c.id().equals(a.cohort())))
            .orElseThrow(() -> Refusal.notFound("This drill is not set for you. What is due is under Practise."));
    Sitting sitting =
        drills
            .start(me, assignment)
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
    Plan plan = Plan.ofAssemblies(one.map(List::of).orElse(pool.assemblies()), kinds, asked, true);
    Sitting sitting =
        drills
            .selfTest(Visit.person(ctx), "Self-test: " + PlanView.of(plan, pool, names).scope(), plan)
            .orElseThrow(() -> Refusal.notFound("The drawing shows no parts to ask for. Tell your instructor."));
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
