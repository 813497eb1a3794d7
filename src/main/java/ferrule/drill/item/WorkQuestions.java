package ferrule.drill.item;

import ferrule.glossary.ConceptId;
import ferrule.procedure.Procedure;
import ferrule.procedure.ProcedureBook;
import ferrule.procedure.ProcedureItem;
import ferrule.procedure.ProcedureItems;
import ferrule.procedure.StepId;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.random.RandomGenerator;

/**
 * Questions about bench work: put the steps in order, the next step, the step left out, the tool, the caution. What is
 * wrong about a wrong option is said by {@link ProcedureItems}.
 */
public final class WorkQuestions implements Writer {

  private final ProcedureBook book;
  private final ProcedureItems items;
  private final Optional<ProcedureItem.Asks> asks;
  private final Function<ConceptId, Optional<ConceptId>> home;
  private final ConceptId instrument;

  /**
   * A writer of one sort of question.
   *
   * @param asks what is asked for; empty to put steps in order
   * @param home the assembly under which a part is picked
   * @param instrument what work without parts is about
   */
  public WorkQuestions(
      ProcedureBook book,
      Optional<ProcedureItem.Asks> asks,
      Function<ConceptId, Optional<ConceptId>> home,
      ConceptId instrument) {
    this.book = book;
    this.items = book.items();
    this.asks = asks;
    this.home = home;
    this.instrument = instrument;
  }

  @Override
  public List<Topic> topics() {
    return book.procedures().stream().filter(p -> probe(p).isPresent()).map(this::topic).toList();
  }

  private Optional<ProcedureItem> probe(Procedure procedure) {
    for (long seed = 0; seed < 4; seed++) {
      Optional<ProcedureItem> item = item(procedure, seed);
      if (item.isPresent()) {
        return item;
      }
    }
    return Optional.empty();
  }

  private Optional<ProcedureItem> item(Procedure procedure, long seed) {
    return asks.isPresent()
        ? items.choice(procedure, asks.get(), seed).map(c -> c)
        : items.putInOrder(procedure, seed).map(o -> o);
  }

  private Topic topic(Procedure procedure) {
    Set<ConceptId> homes = new LinkedHashSet<>();
    procedure.parts().forEach(part -> home.apply(part).ifPresent(homes::add));
    if (homes.isEmpty()) {
      homes.add(instrument);
    }
    // a question that shows the order would answer another one about it
    boolean showsOrder =
        asks.isEmpty() || asks.get() == ProcedureItem.Asks.NEXT_STEP || asks.get() == ProcedureItem.Asks.STEP_LEFT_OUT;
    String once = procedure.id() + "/" + (showsOrder ? "order" : asks.get());
    double hardness = 0.05 * (procedure.steps().size() - 9);
    return new Topic(about(procedure, List.of()), once, procedure.id().value(), homes, hardness);
  }

  private ConceptId about(Procedure procedure, List<StepId> steps) {
    List<ConceptId> touched = steps.size() == 1 ? procedure.step(steps.get(0)).parts() : List.of();
    return touched.stream().findFirst().or(() -> procedure.parts().stream().findFirst()).orElse(instrument);
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    Procedure procedure = book.find(topic.id()).orElseThrow();
    return item(procedure, random.nextLong()).map(item -> draft(procedure, item));
  }

  private Draft draft(Procedure procedure, ProcedureItem item) {
    if (item instanceof ProcedureItem.Choice choice) {
      boolean showsSteps =
          choice.asks() == ProcedureItem.Asks.NEXT_STEP || choice.asks() == ProcedureItem.Asks.STEP_LEFT_OUT;
      List<String> given =
          showsSteps ? choice.shown().stream().map(s -> procedure.step(s).name()).toList() : List.of();
      List<Option> options =
          choice.options().stream().map(o -> new Option(o.id(), o.text(), o.right(), o.because())).toList();
      String stem = procedure.title() + ". " + choice.stem();
      return new Draft(
          about(procedure, showsSteps ? List.of() : choice.shown()),
          Optional.empty(),
          new Interaction.Choice(stem, given, options));
    }
    ProcedureItem.PutInOrder order = (ProcedureItem.PutInOrder) item;
    List<Interaction.Placed> steps =
        order.shown().stream()
            .map(s -> new Interaction.Placed(s, procedure.step(s).name(), procedure.indexOf(s)))
            .toList();
    return new Draft(
        about(procedure, List.of()),
        Optional.empty(),
        new Interaction.Ordering(
            procedure.title() + ". Put the steps in order.", procedure.id(), steps, procedure.precedences()));
  }
}
