package ferrule.procedure;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.people.Role;
import ferrule.procedure.ProcedureItem.Asks;
import ferrule.procedure.ProcedureItem.Choice;
import ferrule.procedure.ProcedureItem.Option;
import ferrule.web.Access;
import ferrule.web.NavEntry;
import ferrule.web.Page;
import ferrule.web.Pages;
import ferrule.web.Refusal;
import ferrule.web.Visit;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ThreadLocalRandom;
import java.util.stream.Collectors;

/** The procedures to read, to print as a bench sheet, and to practise the order of. */
public final class ProcedurePages implements Pages {

  private static final String HOME = "/procedures";
  private static final int SHUFFLES = 10_000;
  private static final List<Asks> QUESTIONS =
      List.of(Asks.NEXT_STEP, Asks.TOOL, Asks.CAUTION, Asks.NEXT_STEP, Asks.STEP_LEFT_OUT);

  private final ProcedureBook book;
  private final Glossary glossary;
  private final ProcedureItems items;
  private final Map<ProcedureId, BigInteger> orders;

  /**
   * The pages.
   *
   * @param book the procedures
   * @param glossary of their instrument
   */
  public ProcedurePages(ProcedureBook book, Glossary glossary) {
    this.book = book;
    this.glossary = glossary;
    this.items = book.items();
    this.orders = book.procedures().stream()
        .collect(Collectors.toMap(Procedure::id, p -> LinearExtensions.of(p.order()).count()));
  }

  @Override
  public List<NavEntry> nav() {
    return List.of(NavEntry.of("Procedures", HOME, 50, Access.APPRENTICE, Access.INSTRUCTOR, Access.COORDINATOR));
  }

  @Override
  public void routes(RoutesConfig routes) {
    routes.get(HOME, this::list, Access.SIGNED_IN);
    routes.get(HOME + "/{id}", this::read, Access.SIGNED_IN);
    routes.get(HOME + "/{id}/order", this::order, Access.SIGNED_IN);
    routes.get(HOME + "/{id}/questions", this::questions, Access.SIGNED_IN);
  }

  /** A group of the list. */
  public record AreaView(String title, List<ListedView> procedures) {}

  /** A procedure in the list. */
  public record ListedView(String address, String title, String purpose, int steps, int cautions, String orders) {}

  private void list(Context ctx) {
    Map<Procedure.Area, List<ListedView>> byArea = new LinkedHashMap<>();
    for (Procedure.Area area : Procedure.Area.values()) {
      byArea.put(area, new ArrayList<>());
    }
    book.procedures().forEach(p -> byArea.get(p.area()).add(listed(p)));
    Page.show(ctx, "procedure/list", Map.of(
        "areas", byArea.entrySet().stream()
            .filter(e -> !e.getValue().isEmpty())
            .map(e -> new AreaView(e.getKey().title(), e.getValue())).toList(),
        "countsOrders", seesOrders(ctx)));
  }

  private ListedView listed(Procedure p) {
    return new ListedView(
        address(p), p.title(), p.purpose(), p.steps().size(), p.cautions().size(), grouped(orders.get(p.id())));
  }

  private static boolean seesOrders(Context ctx) {
    return Visit.person(ctx).role() != Role.APPRENTICE;
  }

  private static BigInteger sequences(Procedure procedure) {
    BigInteger all = BigInteger.ONE;
    for (int i = 2; i <= procedure.steps().size(); i++) {
      all = all.multiply(BigInteger.valueOf(i));
    }
    return all;
  }

  private static String grouped(BigInteger number) {
    return String.format(Locale.ENGLISH, "%,d", number);
  }

  /** Where a procedure can be read. */
  public static String address(Procedure procedure) {
    return HOME + "/" + procedure.id();
  }

  private Procedure asked(Context ctx) {
    return book.find(ctx.pathParam("id"))
        .orElseThrow(() -> Refusal.notFound("There is no procedure with this address. Look for it in the list."));
  }

  /** A step as the page shows it. */
  public record StepView(
      int number,
      String name,
      String instruction,
      List<WaitView> waits,
      List<CautionView> cautions,
      List<String> tools,
      List<String> materials,
      List<PartView> parts,
      List<MeasurementView> measurements,
      List<Figure> figures) {}

  /** A step that must come before another, and what goes wrong otherwise. */
  public record WaitView(int number, String name, String objection) {}

  /** A caution, and the step in which it is said in full if that is an earlier one, else 0. */
  public record CautionView(String title, String hazard, String measure, int said) {}

  /** A part, with the address of its page if it has one. */
  public record PartView(String term, String path) {}

  /** A point to measure. */
  public record MeasurementView(String what, String unit, String limit, String source) {}

  private void read(Context ctx) {
    Procedure procedure = asked(ctx);
    List<StepView> steps = steps(procedure);
    Map<String, Object> model = new LinkedHashMap<>();
    model.put("procedure", procedure);
    model.put("address", address(procedure));
    model.put("steps", steps);
    model.put("tools", procedure.tools());
    model.put("materials", procedure.materials());
    model.put("restsWith", book.cautions().restsWith());
    model.put("wide", PrecedenceDrawing.withNames(procedure));
    model.put("narrow", PrecedenceDrawing.withNumbers(procedure));
    model.put("instrument", glossary.title());
    model.put("countsOrders", seesOrders(ctx));
    model.put("orders", grouped(orders.get(procedure.id())));
    model.put("sequences", grouped(sequences(procedure)));
    Page.show(ctx, "procedure/procedure", model);
  }

  private List<StepView> steps(Procedure procedure) {
    Map<Caution, Integer> said = new LinkedHashMap<>();
    List<StepView> views = new ArrayList<>();
    for (Step step : procedure.steps()) {
      int number = views.size() + 1;
      List<CautionView> cautions =
          step.cautions().stream()
              .map(c -> new CautionView(c.title(), c.hazard(), c.measure(), said.getOrDefault(c, 0)))
              .toList();
      step.cautions().forEach(c -> said.putIfAbsent(c, number));
      views.add(new StepView(
          number, step.name(), step.instruction(), waits(procedure, step), cautions,
          step.tools().stream().map(Tool::name).toList(), step.materials().stream().map(Material::name).toList(),
          step.parts().stream().map(this::part).toList(),
          step.measurements().stream().map(ProcedurePages::measurement).toList(), step.figures()));
    }
    return views;
  }

  private static List<WaitView> waits(Procedure procedure, Step step) {
    return procedure.before(step.id()).stream()
        .map(p -> new WaitView(
            procedure.indexOf(p.earlier()) + 1, procedure.step(p.earlier()).name(), sentence(p.objection())))
        .toList();
  }

  private static String sentence(String text) {
    return text.endsWith(".") ? text : text + ".";
  }

  private PartView part(ConceptId id) {
    Concept concept = glossary.get(id);
    return new PartView(concept.term(), concept.isNameable() ? "/instrument/" + id : "");
  }

  private static MeasurementView measurement(Measurement m) {
    return new MeasurementView(
        m.what(), m.unit(), m.limit().map(Figure::fact).orElse(""), m.limit().map(Figure::source).orElse(""));
  }

  /** A step to be put in its place. */
  public record PlacedView(String id, String name, int place, boolean first, boolean last, boolean moved) {}

  /** A step to move, with what is wrong with where it stands. */
  public record MoveView(String name, int from, int to, List<String> objections) {}

  private void order(Context ctx) {
    Procedure procedure = asked(ctx);
    List<StepId> given = given(ctx, procedure);
    if (given.isEmpty()) {
      shuffle(ctx, procedure);
    } else if (ctx.queryParam("judge") != null) {
      judge(ctx, procedure, given);
    } else {
      Optional<Move> move = Visit.queryText(ctx, "move").flatMap(text -> Move.parse(text, given.size()));
      move.ifPresent(m -> m.in(given));
      showOrder(ctx, procedure, given, move);
    }
  }

  /** The order in the address, free to be changed; empty if there is none. */
  private static List<StepId> given(Context ctx, Procedure procedure) {
    List<String> texts = ctx.queryParams("step");
    boolean whole =
        texts.size() == procedure.steps().size()
            && new HashSet<>(texts).equals(new HashSet<>(procedure.stepIds().stream().map(StepId::value).toList()));
    if (!texts.isEmpty() && !whole) {
      throw Refusal.invalid("The address does not hold each step once. Start again from the procedure.");
    }
    return new ArrayList<>(texts.stream().map(StepId::of).toList());
  }

  /** One place up or down for the step that stands in a place. */
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

    void in(List<StepId> steps) {
      steps.add(place - 1 + by, steps.remove(place - 1));
    }
  }

  private void shuffle(Context ctx, Procedure procedure) {
    Optional<Long> seed = seed(ctx, "shuffle");
    if (seed.isEmpty()) {
      Page.goTo(ctx, address(procedure) + "/order?shuffle=" + anySeed());
      return;
    }
    List<StepId> shown =
        items.putInOrder(procedure, seed.get()).map(ProcedureItem.PutInOrder::shown)
            .orElseThrow(() -> Refusal.notFound("The steps of this procedure can be done in any order."));
    showOrder(ctx, procedure, shown, Optional.empty());
  }

  private static Optional<Long> seed(Context ctx, String name) {
    return Visit.queryText(ctx, name).filter(t -> t.matches("\\d{1,9}")).map(Long::parseLong);
  }

  private static int anySeed() {
    return ThreadLocalRandom.current().nextInt(1, SHUFFLES);
  }

  private void showOrder(Context ctx, Procedure procedure, List<StepId> steps, Optional<Move> move) {
    Map<String, Object> model = new LinkedHashMap<>();
    model.put("procedure", procedure);
    model.put("address", address(procedure));
    model.put("steps", placed(procedure, steps, List.of()));
    model.put("moved", move.map(m -> m.place() + m.by()).orElse(0));
    model.put("movedBy", move.map(Move::by).orElse(0));
    Page.show(ctx, "procedure/order", model);
  }

  private static List<PlacedView> placed(Procedure procedure, List<StepId> steps, List<StepId> moved) {
    List<PlacedView> views = new ArrayList<>();
    for (StepId id : steps) {
      int place = views.size() + 1;
      views.add(new PlacedView(
          id.value(), procedure.step(id).name(), place, place == 1, place == steps.size(), moved.contains(id)));
    }
    return views;
  }

  private void judge(Context ctx, Procedure procedure, List<StepId> given) {
    OrderVerdict verdict = OrderJudge.judge(procedure, given);
    Map<String, Object> model = new LinkedHashMap<>();
    model.put("procedure", procedure);
    model.put("address", address(procedure));
    model.put("verdict", verdict);
    model.put("again", given.stream().map(s -> "step=" + s).collect(Collectors.joining("&")));
    model.put("percent", Math.round(100 * verdict.credit()));
    model.put("pairs", verdict.tau().concordant() + verdict.tau().discordant());
    model.put("moves", moves(procedure, verdict));
    model.put("given", placed(procedure, verdict.given(), verdict.moves()));
    model.put("mended", placed(procedure, verdict.mended(), verdict.moves()));
    Page.show(ctx, "procedure/judged", model);
  }

  private static List<MoveView> moves(Procedure procedure, OrderVerdict verdict) {
    return verdict.toMove().stream()
        .map(m -> new MoveView(
            procedure.step(m.step()).name(), m.from(), m.to(),
            m.broken().stream().map(p -> sentence(p.objection())).toList()))
        .toList();
  }

  /** A question, and what was answered. */
  public record QuestionView(int number, String stem, List<String> shown, List<OptionView> options, boolean right) {}

  /** One answer to choose. */
  public record OptionView(int place, String text, boolean chosen, boolean right, String because) {}

  private void questions(Context ctx) {
    Procedure procedure = asked(ctx);
    Optional<Long> seed = seed(ctx, "set");
    if (seed.isEmpty()) {
      Page.goTo(ctx, address(procedure) + "/questions?set=" + anySeed());
      return;
    }
    List<QuestionView> views = new ArrayList<>();
    for (Choice choice : choices(procedure, seed.get())) {
      views.add(question(ctx, procedure, choice, views.size() + 1));
    }
    Map<String, Object> model = new LinkedHashMap<>();
    model.put("procedure", procedure);
    model.put("address", address(procedure));
    model.put("set", seed.get());
    model.put("questions", views);
    model.put("judged", ctx.queryParam("judge") != null);
    model.put("right", views.stream().filter(QuestionView::right).count());
    Page.show(ctx, "procedure/questions", model);
  }

  /** The questions of a set, none twice; the same set is always the same. */
  private List<Choice> choices(Procedure procedure, long set) {
    List<Choice> choices = new ArrayList<>();
    for (int i = 0; i < QUESTIONS.size(); i++) {
      items.choice(procedure, QUESTIONS.get(i), set * QUESTIONS.size() + i)
          .filter(choice -> choices.stream().noneMatch(c -> c.key().equals(choice.key())))
          .ifPresent(choices::add);
    }
    return choices;
  }

  private static QuestionView question(Context ctx, Procedure procedure, Choice choice, int number) {
    int chosen = Visit.queryText(ctx, "answer-" + number).filter(t -> t.matches("\\d")).map(Integer::parseInt).orElse(0);
    List<OptionView> options = new ArrayList<>();
    for (Option option : choice.options()) {
      int place = options.size() + 1;
      options.add(new OptionView(place, option.text(), place == chosen, option.right(), option.because()));
    }
    boolean showsSteps = choice.asks() == Asks.NEXT_STEP || choice.asks() == Asks.STEP_LEFT_OUT;
    List<String> shown = showsSteps ? choice.shown().stream().map(s -> procedure.step(s).name()).toList() : List.of();
    return new QuestionView(
        number, choice.stem(), shown, options, options.stream().anyMatch(o -> o.chosen() && o.right()));
  }
}
