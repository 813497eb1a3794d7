package ferrule.procedure;

import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.function.Function;

/**
 * A piece of bench work: steps, of which some must come before others. Any sequence that keeps these precedences is a
 * right way to do the work; the steps are listed in one of them. Immutable.
 */
public final class Procedure {

  /** Sorts of bench work, in the order in which an instrument meets them. */
  public enum Area {
    /** What comes before all other work. */
    BEFORE_THE_WORK("Before the work"),
    /** Getting dirt off and stuck parts free. */
    CLEANING_AND_FREEING("Cleaning and freeing"),
    /** Making valves, slides and water keys run and hold air. */
    FITTING_AND_SEALING("Valves, slides and water keys"),
    /** Dents, joints and finish. */
    METALWORK("Metalwork and finish"),
    /** What comes after all other work. */
    AFTER_THE_WORK("After the work");

    private final String title;

    Area(String title) {
      this.title = title;
    }

    /** What it is called on a page. */
    public String title() {
      return title;
    }

    /** The word for it in the curriculum, such as {@code before-the-work}. */
    public String word() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    /** The area with this word, such as {@code before-the-work}. */
    public static Area parse(String word) {
      return valueOf(word.toUpperCase(Locale.ROOT).replace('-', '_'));
    }
  }

  private final ProcedureId id;
  private final String title;
  private final Area area;
  private final String instrument;
  private final String purpose;
  private final String source;
  private final List<Step> steps;
  private final List<Precedence> precedences;
  private final List<StepId> stepIds;
  private final PartialOrder order;

  /**
   * A procedure of these steps.
   *
   * @param instrument the id of its glossary, such as {@code trumpet}
   * @param purpose what the work is for
   * @param source where the way of working comes from, such as "common practice, no source"
   * @param steps in an order that keeps the precedences
   * @param precedences none that follows from others
   * @throws IllegalArgumentException if a step stands twice, a precedence names an unknown step, follows from others or
   *     is broken by the list of steps
   */
  public Procedure(
      ProcedureId id,
      String title,
      Area area,
      String instrument,
      String purpose,
      String source,
      List<Step> steps,
      List<Precedence> precedences) {
    this.id = id;
    this.title = title;
    this.area = area;
    this.instrument = instrument;
    this.purpose = purpose;
    this.source = source;
    this.steps = List.copyOf(steps);
    this.precedences = List.copyOf(precedences);
    this.stepIds = steps.stream().map(Step::id).toList();
    if (new LinkedHashSet<>(stepIds).size() != stepIds.size()) {
      throw new IllegalArgumentException("a step of procedure " + id + " stands twice: " + stepIds);
    }
    this.order = PartialOrder.of(
        steps.size(),
        precedences.stream().map(p -> new PartialOrder.Pair(indexOf(p.earlier()), indexOf(p.later()))).toList());
    if (order.covers().size() != precedences.size()) {
      throw new IllegalArgumentException("a precedence of procedure " + id + " follows from others");
    }
    for (Precedence p : precedences) {
      if (indexOf(p.earlier()) > indexOf(p.later())) {
        throw new IllegalArgumentException("procedure " + id + " lists step " + p.later() + " before " + p.earlier());
      }
    }
  }

  /** The stable name. */
  public ProcedureId id() {
    return id;
  }

  /** What the work is called. */
  public String title() {
    return title;
  }

  /** The sort of work that it is. */
  public Area area() {
    return area;
  }

  /** The id of the glossary whose parts it touches. */
  public String instrument() {
    return instrument;
  }

  /** What the work is for. */
  public String purpose() {
    return purpose;
  }

  /** Where the way of working comes from. */
  public String source() {
    return source;
  }

  /** The steps, in an order that works. */
  public List<Step> steps() {
    return steps;
  }

  /** Which step must come before which, and why; none of them follows from the others. */
  public List<Precedence> precedences() {
    return precedences;
  }

  /** The precedences among steps as an order of their places in {@link #steps}. */
  public PartialOrder order() {
    return order;
  }

  /** The ids of the steps, in the order of the steps. */
  public List<StepId> stepIds() {
    return stepIds;
  }

  /** The step with this id; throws {@link IllegalArgumentException} if there is none. */
  public Step step(StepId step) {
    return steps.get(indexOf(step));
  }

  /** The place of a step in the list, from 0; throws {@link IllegalArgumentException} if there is no such step. */
  public int indexOf(StepId step) {
    int index = stepIds.indexOf(step);
    if (index < 0) {
      throw new IllegalArgumentException("procedure " + id + " has no step " + step);
    }
    return index;
  }

  /** What must come directly before a step, with the reasons. */
  public List<Precedence> before(StepId step) {
    return precedences.stream().filter(p -> p.later().equals(step)).toList();
  }

  /** The tools of all steps, each once, in the order in which they are first taken up. */
  public List<Tool> tools() {
    return each(Step::tools);
  }

  /** The materials of all steps, each once, in the order in which they are first used. */
  public List<Material> materials() {
    return each(Step::materials);
  }

  /** The cautions of all steps, each once, in the order in which they first matter. */
  public List<Caution> cautions() {
    return each(Step::cautions);
  }

  /** The parts that the work touches, each once, in the order in which they are first touched. */
  public List<ConceptId> parts() {
    return each(Step::parts);
  }

  private <T> List<T> each(Function<Step, Collection<T>> of) {
    LinkedHashSet<T> found = new LinkedHashSet<>();
    steps.forEach(step -> found.addAll(of.apply(step)));
    return new ArrayList<>(found);
  }

  @Override
  public String toString() {
    return "procedure " + id;
  }
}
