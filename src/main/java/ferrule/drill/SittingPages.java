package ferrule.drill;

import ferrule.glossary.ConceptId;
import ferrule.web.Access;
import ferrule.web.Page;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/** Taking a drill: one item, its feedback, and the result. Everyone sees their own sittings only. */
final class SittingPages {

  private final Drills drills;
  private final DrillStore store;
  private final Pictures pictures;
  private final PartNames names;
  private final Calendar calendar;
  private final SittingView sittingView;

  SittingPages(
      Drills drills,
      DrillStore store,
      Pictures pictures,
      PartNames names,
      Calendar calendar,
      SittingView sittingView) {
    this.drills = drills;
    this.store = store;
    this.pictures = pictures;
    this.names = names;
    this.calendar = calendar;
    this.sittingView = sittingView;
  }

  void routes(RoutesConfig routes) {
    routes.get("/drill/{sitting}", this::goOn, Access.APPRENTICE);
    routes.get("/drill/{sitting}/result", this::result, Access.APPRENTICE);
    routes.post("/drill/{sitting}/again", this::again, Access.APPRENTICE);
    routes.get("/drill/{sitting}/{position}", this::item, Access.APPRENTICE);
    routes.post("/drill/{sitting}/{position}", this::answer, Access.APPRENTICE);
    routes.post("/drill/{sitting}/{position}/dispute", this::dispute, Access.APPRENTICE);
  }

  private void goOn(Context ctx) {
    Page.goTo(ctx, nextPath(own(ctx)));
  }

  private String nextPath(Sitting sitting) {
    String base = "/drill/" + sitting.id();
    return base + drills.next(sitting).map(i -> "/" + i.position()).orElse("/result");
  }

  private Sitting own(Context ctx) {
    return store
        .sitting(Visit.id(ctx, "sitting"))
        .filter(s -> s.person().equals(Visit.person(ctx).id()))
        .orElseThrow(() -> Refusal.notFound("There is no such drill of yours. What is due is under Practise."));
  }

  private static Item item(Context ctx, Sitting sitting) {
    String position = ctx.pathParam("position");
    return (position.matches("[0-9]{1,3}") ? sitting.item(Integer.parseInt(position)) : Optional.<Item>empty())
        .orElseThrow(() -> Refusal.notFound("This drill has " + sitting.items().size() + " parts to ask for."));
  }

  private void item(Context ctx) {
    Sitting sitting = own(ctx);
    Item item = item(ctx, sitting);
    Optional<Response> answered = store.response(sitting.id(), item.position());
    if (answered.isPresent()) {
      showFeedback(ctx, sitting, answered.get());
    } else {
      showItem(ctx, sitting, item, "", "");
    }
  }

  private void showItem(Context ctx, Sitting sitting, Item item, String problem, String typed) {
    boolean byNumber = item.kind() == ItemKind.FIND && "number".equals(ctx.queryParam("by"));
    Map<String, Object> model = frame(sitting, item);
    model.put("svg", pictures.asking(item, byNumber).svg());
    model.put("byNumber", byNumber);
    model.put("problem", problem);
    model.put("typed", typed);
    model.put("longest", Answer.LONGEST);
    // a part that is to be named must not stand in the page, not even in the drill's title
    boolean told = item.kind() == ItemKind.NAME && names.isToldBy(item.key(), sitting.title());
    model.put("title", told ? "Drill" : sitting.title());
    model.put("wanted", item.kind() == ItemKind.FIND ? names.term(item.key()) : "");
    Page.show(ctx, "drill/item", model);
  }

  private Map<String, Object> frame(Sitting sitting, Item item) {
    Map<String, Object> model = new HashMap<>();
    model.put("sitting", sitting.id());
    model.put("title", sitting.title());
    model.put("position", item.position());
    model.put("length", sitting.items().size());
    model.put("view", pictures.caption(item));
    model.put("kind", item.kind().word());
    return model;
  }

  private void answer(Context ctx) {
    Sitting sitting = own(ctx);
    Item item = item(ctx, sitting);
    boolean passed = Visit.formText(ctx, "pass").isPresent();
    String problem = passed ? "" : problem(ctx, item);
    if (!problem.isEmpty() && store.response(sitting.id(), item.position()).isEmpty()) {
      ctx.status(400);
      showItem(ctx, sitting, item, problem, Visit.formText(ctx, "answer").orElse(""));
      return;
    }
    if (problem.isEmpty()) {
      drills.answer(sitting, item, passed ? pass(item) : read(ctx, item));
    }
    Page.goTo(ctx, "/drill/" + sitting.id() + "/" + item.position());
  }

  private String problem(Context ctx, Item item) {
    if (item.kind() == ItemKind.FIND) {
      return place(ctx, item).isPresent()
          ? ""
          : "Choose a part on the drawing first, or say that you do not know.";
    }
    String typed = Visit.formText(ctx, "answer").orElse("");
    if (typed.isEmpty()) {
      return "Type the name of the part first, or say that you do not know.";
    }
    return typed.length() > Answer.LONGEST ? "A name has at most " + Answer.LONGEST + " characters." : "";
  }

  private static Answer pass(Item item) {
    return item.kind() == ItemKind.NAME ? new Answer.Typed("") : new Answer.Pointed(Optional.empty());
  }

  private Answer read(Context ctx, Item item) {
    return item.kind() == ItemKind.NAME
        ? new Answer.Typed(Visit.formText(ctx, "answer").orElseThrow())
        : new Answer.Pointed(place(ctx, item));
  }

  private Optional<ConceptId> place(Context ctx, Item item) {
    return number(ctx, "shape")
        .flatMap(n -> pictures.shape(item, n))
        .or(() -> number(ctx, "number").flatMap(n -> pictures.numbered(item, n)));
  }

  private static Optional<Integer> number(Context ctx, String field) {
    return Visit.formText(ctx, field).filter(n -> n.matches("[0-9]{1,4}")).map(Integer::parseInt);
  }

  private void showFeedback(Context ctx, Sitting sitting, Response response) {
    Item item = response.item();
    Map<String, Object> model = frame(sitting, item);
    Optional<ConceptId> takenFor = response.now().takenFor();
    model.put("svg", pictures.explaining(item, takenFor.stream().toList()).svg());
    model.put("takenFor", takenFor.filter(p -> pictures.isExplained(item, p)).map(names::term).orElse(""));
    model.put("response", ResponseView.of(response, names));
    model.put("term", names.term(item.key()));
    model.put("definition", names.definition(item.key()));
    model.put("home", names.home(item.key()).map(names::term).orElse(""));
    model.put("last", drills.next(sitting).isEmpty());
    model.put(
        "mayDispute",
        response.typed().filter(t -> !t.isEmpty()).isPresent() && !response.now().isRight() && !response.disputed());
    Page.show(ctx, "drill/feedback", model);
  }

  private void dispute(Context ctx) {
    Sitting sitting = own(ctx);
    Item item = item(ctx, sitting);
    Response response =
        store
            .response(sitting.id(), item.position())
            .filter(r -> r.typed().isPresent())
            .orElseThrow(() -> Refusal.invalid("Only an answer that you typed can go to the instructor."));
    store.dispute(response.id(), calendar.now());
    Page.goTo(ctx, "/drill/" + sitting.id() + "/" + item.position(), "Your instructor will look at this answer.");
  }

  private void result(Context ctx) {
    Sitting sitting = own(ctx);
    if (drills.next(sitting).isPresent()) {
      Page.goTo(ctx, nextPath(sitting));
      return;
    }
    Page.show(ctx, "drill/result", sittingView.result(sitting));
  }

  private void again(Context ctx) {
    Sitting sitting = own(ctx);
    Sitting next =
        drills
            .again(Visit.person(ctx), sitting)
            .orElseThrow(() -> Refusal.invalid("Every answer of that drill was right: there is nothing to repeat."));
    Page.goTo(ctx, "/drill/" + next.id());
  }
}
