package ferrule.drill;

import ferrule.drill.item.Interaction;
import ferrule.glossary.ConceptId;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.procedure.OrderJudge;
import ferrule.procedure.OrderVerdict;
import ferrule.procedure.Precedence;
import ferrule.procedure.StepId;
import ferrule.web.Access;
import ferrule.web.OnlyOwn;
import ferrule.web.Page;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;

/** Taking a drill: one item, its feedback, and the result. Everyone sees their own sittings only. */
final class SittingPages {

  /** A drill without a time limit says that it closes only this long before. */
  private static final Duration SOON = Duration.ofHours(3);

  private static final String ANSWERED_BEFORE =
      "This was answered before, in another tab or on another device. That answer counts, and not the one that you sent "
          + "just now.";

  private final Drills drills;
  private final DrillStore store;
  private final Pictures pictures;
  private final PartNames names;
  private final Calendar calendar;
  private final SittingView sittingView;
  private final ItemWords words;
  private final Relatives relatives;
  private final Turns turns;

  SittingPages(
      Drills drills,
      DrillStore store,
      Pictures pictures,
      PartNames names,
      Calendar calendar,
      SittingView sittingView,
      Turns turns) {
    this.drills = drills;
    this.store = store;
    this.pictures = pictures;
    this.names = names;
    this.calendar = calendar;
    this.sittingView = sittingView;
    this.words = new ItemWords(names);
    this.relatives = new Relatives(names);
    this.turns = turns;
  }

  void routes(RoutesConfig routes) {
    OnlyOwn own = OnlyOwn.of(Role.APPRENTICE, "sitting", this::isOf);
    routes.get("/drill/{sitting}", this::goOn, Access.APPRENTICE, own);
    routes.get("/drill/{sitting}/result", this::result, Access.APPRENTICE, own);
    routes.post("/drill/{sitting}/again", this::again, Access.APPRENTICE, own);
    routes.get("/drill/{sitting}/{position}", this::item, Access.APPRENTICE, own);
    routes.post("/drill/{sitting}/{position}", this::answer, Access.APPRENTICE, own);
    routes.post("/drill/{sitting}/{position}/dispute", this::dispute, Access.APPRENTICE, own);
  }

  private boolean isOf(Person apprentice, String sitting) {
    return Visit.uuid(sitting).flatMap(store::sitting).filter(s -> s.person().equals(apprentice.id())).isPresent();
  }

  private void goOn(Context ctx) {
    Page.goTo(ctx, nextPath(own(ctx)));
  }

  private String nextPath(Sitting sitting) {
    String base = "/drill/" + sitting.id();
    Optional<Item> next = turns.isClosed(sitting) ? Optional.empty() : drills.next(sitting);
    return base + next.map(i -> "/" + i.position()).orElse("/result");
  }

  /** Whether nothing can be added: answered in full, or closed. */
  private boolean isOver(Sitting sitting) {
    return drills.next(sitting).isEmpty() || turns.isClosed(sitting);
  }

  /** Whether the verdicts are kept back until the sitting is over, and it is not. */
  private boolean isKeptBack(Sitting sitting) {
    return isKeptBack(sitting, turns.conditions(sitting));
  }

  private boolean isKeptBack(Sitting sitting, Optional<Conditions> conditions) {
    return conditions.filter(c -> c.feedback() == Conditions.Feedback.END).isPresent() && !isOver(sitting);
  }

  private Sitting own(Context ctx) {
    return store
        .sitting(Visit.id(ctx, "sitting"))
        .orElseThrow(() -> Refusal.notFound("There is no such drill of yours. What is due is under Practise."));
  }

  private static Item item(Context ctx, Sitting sitting) {
    String position = ctx.pathParam("position");
    return (position.matches("[0-9]{1,3}") ? sitting.item(Integer.parseInt(position)) : Optional.<Item>empty())
        .orElseThrow(() -> Refusal.notFound("This drill has " + sitting.items().size() + " questions."));
  }

  private void item(Context ctx) {
    Sitting sitting = own(ctx);
    Item item = item(ctx, sitting);
    Optional<Response> answered = store.response(sitting.id(), item.position());
    if (answered.isPresent() && isKeptBack(sitting)) {
      Map<String, Object> model = frame(sitting, item);
      model.put("said", ResponseView.of(answered.get(), names).said());
      model.put("passed", answered.get().answer().equals(Answer.none(item.kind())));
      Page.show(ctx, "drill/kept", model);
    } else if (answered.isPresent()) {
      showFeedback(ctx, sitting, answered.get());
    } else if (turns.isClosed(sitting)) {
      Page.goTo(ctx, nextPath(sitting));
    } else {
      showItem(ctx, sitting, item, "");
    }
  }

  private void showItem(Context ctx, Sitting sitting, Item item, String problem) {
    boolean byNumber = item.kind().isPointed() && "number".equals(ctx.queryParam("by"));
    Map<String, Object> model = frame(sitting, item);
    model.put("svg", item.isDrawn() ? pictures.asking(item, byNumber).svg() : "");
    model.put("byNumber", byNumber);
    model.put("problem", problem);
    model.put("typed", Visit.formText(ctx, "answer").orElse(""));
    model.put("longest", Answer.LONGEST);
    model.put("key", Visit.formText(ctx, "key").orElseGet(() -> UUID.randomUUID().toString()));
    model.put("title", words.isToldBy(item, sitting.title()) ? "Drill" : sitting.title());
    model.put("stem", words.stem(item));
    model.put("given", words.given(item));
    model.put("options", item.choice().map(Interaction.Choice::options).orElse(List.of()));
    item.ordering().ifPresent(ordering -> addOrder(ctx, item, ordering, model));
    Page.show(ctx, "drill/item", model);
  }

  /** A step to be put in its place. */
  record PlacedView(String id, String name, int place, boolean first, boolean last) {}

  /** The steps as they were sent, after the move that was asked for, or as they are first shown. */
  private void addOrder(Context ctx, Item item, Interaction.Ordering ordering, Map<String, Object> model) {
    List<StepId> steps =
        new ArrayList<>(new AnswerForm(pictures, item, ctx::formParams).steps().orElse(ordering.shown()));
    Optional<Move> move = Visit.formText(ctx, "move").flatMap(m -> Move.parse(m, steps.size()));
    move.ifPresent(m -> m.in(steps));
    List<PlacedView> placed = new ArrayList<>();
    for (StepId step : steps) {
      int place = placed.size() + 1;
      placed.add(new PlacedView(step.value(), ordering.name(step), place, place == 1, place == steps.size()));
    }
    model.put("steps", placed);
    model.put("moved", move.map(Move::lands).orElse(0));
    model.put("movedBy", move.map(Move::by).orElse(0));
  }

  /** One place up or down for the step that stands in a place, from 1. */
  private record Move(int place, int by) {

    static Optional<Move> parse(String text, int size) {
      if (!text.matches("(up|down)-\\d{1,2}")) {
        return Optional.empty();
      }
      int by = text.startsWith("up") ? -1 : 1;
      int place = Integer.parseInt(text.substring(text.indexOf('-') + 1));
      boolean within = place >= 1 && place <= size && place + by >= 1 && place + by <= size;
      return within ? Optional.of(new Move(place, by)) : Optional.empty();
    }

    int lands() {
      return place + by;
    }

    void in(List<StepId> steps) {
      steps.add(place - 1 + by, steps.remove(place - 1));
    }
  }

  private Map<String, Object> frame(Sitting sitting, Item item) {
    Map<String, Object> model = new HashMap<>();
    model.put("sitting", sitting.id());
    model.put("title", sitting.title());
    model.put("position", item.position());
    model.put("length", sitting.items().size());
    model.put("view", pictures.caption(item));
    model.put("kind", item.kind().word());
    model.put("drawn", item.isDrawn());
    model.put("way", way(item.kind()));
    model.put("closesAt", "");
    turns
        .deadline(sitting)
        .filter(d -> d.timeLimit() || d.at().isBefore(calendar.now().plus(SOON)))
        .ifPresent(
            d -> {
              model.put("closesAt", calendar.time(d.at()));
              model.put("millisLeft", Math.max(0, Duration.between(calendar.now(), d.at()).toMillis()));
              model.put("timeLimit", d.timeLimit());
              model.put("grace", Deadline.GRACE.toSeconds());
            });
    return model;
  }

  /** How an item is answered, in a word that the templates know. */
  private static String way(ItemKind kind) {
    if (kind.isTyped()) {
      return "type";
    }
    return kind.isPointed() ? "point" : kind.isChosen() ? "choose" : "order";
  }

  private void answer(Context ctx) {
    Sitting sitting = own(ctx);
    Item item = item(ctx, sitting);
    String path = "/drill/" + sitting.id() + "/" + item.position();
    Optional<Conditions> conditions = turns.conditions(sitting);
    boolean closed = turns.isClosed(sitting, conditions);
    boolean move = Visit.formText(ctx, "move").isPresent();
    AnswerForm form = new AnswerForm(pictures, item, ctx::formParams);
    String problem = form.problem();
    // what is an answer in time is kept or found to be the second without asking first
    boolean open = (closed || move || !problem.isEmpty()) && store.response(sitting.id(), item.position()).isEmpty();
    if (open && closed) {
      goTo(ctx, "/drill/" + sitting.id() + "/result", "That answer came too late and does not count.");
    } else if (open && move) {
      showItem(ctx, sitting, item, "");
    } else if (open) {
      ctx.status(400);
      showItem(ctx, sitting, item, problem);
    } else if (!problem.isEmpty()) {
      goTo(ctx, path, "");
    } else {
      UUID id = Visit.formText(ctx, "key").flatMap(DrillForm::uuid).orElseGet(UUID::randomUUID);
      Response counts = drills.answer(sitting, item, form.answer(), id);
      String next = isKeptBack(sitting, conditions) ? nextPath(sitting) : path;
      goTo(ctx, next, counts.id().equals(id) ? "" : ANSWERED_BEFORE);
    }
  }

  /** Goes on after an answer. The script that sends answers is told where to, because it could not follow and see. */
  private static void goTo(Context ctx, String path, String note) {
    if (note.isEmpty()) {
      Page.goTo(ctx, path);
    } else {
      Page.goTo(ctx, path, note);
    }
    if (ctx.header("X-Answer") != null) {
      ctx.status(200);
      ctx.contentType("text/plain");
      ctx.result(path);
    }
  }

  private void showFeedback(Context ctx, Sitting sitting, Response response) {
    Item item = response.item();
    Map<String, Object> model = frame(sitting, item);
    List<ConceptId> relatives = this.relatives.of(item, response.now().takenFor());
    model.put("svg", pictures.explaining(item, relatives).svg());
    model.put("view", pictures.explainingCaption(item));
    model.put(
        "inMetal",
        relatives.stream().filter(p -> pictures.isExplained(item, p)).map(names::term).collect(Collectors.joining(", ")));
    model.put("stem", words.stem(item));
    model.put("options", options(response));
    model.put("aboutPart", item.kind().asksAboutPart());
    model.put("examples", item.interaction() instanceof Interaction.TextEntry e ? e.examples() : List.of());
    item.ordering().ifPresent(ordering -> addJudged(ordering, response, model));
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

  /** An option, and whether it was chosen. */
  record OptionView(String text, boolean chosen, boolean right) {}

  private static List<OptionView> options(Response response) {
    Optional<String> chosen = response.answer() instanceof Answer.Chosen c ? c.option() : Optional.empty();
    return response.item().choice().stream()
        .flatMap(choice -> choice.options().stream())
        .map(o -> new OptionView(o.text(), chosen.filter(o.id()::equals).isPresent(), o.isKey()))
        .toList();
  }

  /** A step in an order that was judged. */
  record StepView(String name, boolean moved) {}

  /** A step to move, and why. */
  record MoveView(String name, int from, int to, List<String> why) {}

  private static void addJudged(Interaction.Ordering ordering, Response response, Map<String, Object> model) {
    List<StepId> given = ((Answer.Ordered) response.answer()).steps().stream().map(StepId::of).toList();
    OrderVerdict verdict = OrderJudge.judge(ordering.work(), given.isEmpty() ? ordering.shown() : given);
    model.put("orderGiven", given.isEmpty() ? List.of() : judged(ordering, verdict.given(), verdict));
    model.put("orderMended", response.now().isRight() ? List.of() : judged(ordering, verdict.mended(), verdict));
    model.put(
        "moves",
        given.isEmpty()
            ? List.of()
            : verdict.toMove().stream()
                .map(
                    m ->
                        new MoveView(
                            ordering.name(m.step()), m.from(), m.to(),
                            m.broken().stream().map(Precedence::objection).toList()))
                .toList());
  }

  private static List<StepView> judged(Interaction.Ordering ordering, List<StepId> steps, OrderVerdict verdict) {
    return steps.stream().map(s -> new StepView(ordering.name(s), verdict.moves().contains(s))).toList();
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
    if (!isOver(sitting)) {
      Page.goTo(ctx, nextPath(sitting));
      return;
    }
    Map<String, Object> model = new HashMap<>(sittingView.result(sitting));
    model.putAll(Map.of("closedAt", "", "attempt", "", "counts", "", "nextAttempt", "", "look", false));
    sitting.assignment().flatMap(store.assignments()::find).ifPresent(a -> addTurn(model, sitting, a));
    Page.show(ctx, "drill/result", model);
  }

  private void addTurn(Map<String, Object> model, Sitting sitting, Assignment a) {
    Turn turn = turns.of(a, sitting.person());
    model.put("assignment", a.id());
    turn.attempts().stream()
        .filter(s -> s.id().equals(sitting.id()) && !s.isDone())
        .findFirst()
        .flatMap(turn::deadline)
        .ifPresent(d -> model.put("closedAt", (d.timeLimit() ? "Time ran out at " : "It closed at ") + calendar.time(d.at())));
    if (a.conditions().attempts() > 1) {
      model.put("attempt", "Attempt " + sitting.attempt() + " of up to " + a.conditions().attempts());
      turn.counted()
          .ifPresent(
              s ->
                  model.put(
                      "counts",
                      s.id().equals(sitting.id()) ? "This attempt counts" : "What counts is attempt " + s.attempt()
                          + " with " + s.percent() + " %"));
      if (turn.state() == Turn.State.AGAIN && a.withdrawnAt().isEmpty()) {
        model.put("nextAttempt", turn.attempts().size() + 1);
        model.put("look", a.conditions().limit().isPresent());
      }
    }
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
