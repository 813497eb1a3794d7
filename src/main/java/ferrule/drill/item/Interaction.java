package ferrule.drill.item;

import ferrule.procedure.Precedence;
import ferrule.procedure.Procedure;
import ferrule.procedure.ProcedureId;
import ferrule.procedure.Step;
import ferrule.procedure.StepId;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;

/**
 * How an item is answered, with its stem as it was written, so that it can be shown again exactly. The names are those
 * of the interactions of IMS QTI 3.0 (from memory).
 */
public sealed interface Interaction {

  /** What is asked, in words; empty where the item's kind and key say all of it. */
  String stem();

  /**
   * A name is typed.
   *
   * @param examples some answers that are right, where the key's preferred term is not; mostly empty
   */
  record TextEntry(String stem, List<String> examples) implements Interaction {

    /** Copies the list. */
    public TextEntry {
      examples = List.copyOf(examples);
    }
  }

  /** A place on the drawing is chosen. */
  record Hotspot(String stem) implements Interaction {}

  /**
   * One of several is chosen.
   *
   * @param given what the stem goes on to show, line by line, such as the steps that have been done; mostly empty
   * @param options in the order to show them in, one of them the key
   */
  record Choice(String stem, List<String> given, List<Option> options) implements Interaction {

    /** Copies the lists and checks that there is one key, and that no two options have an id or a text in common. */
    public Choice {
      given = List.copyOf(given);
      options = List.copyOf(options);
      if (options.size() < 2 || options.stream().filter(Option::isKey).count() != 1) {
        throw new IllegalArgumentException("expected two options or more, one of them the key; given: " + options);
      }
      if (new HashSet<>(options.stream().map(Option::id).toList()).size() < options.size()
          || new HashSet<>(options.stream().map(Option::text).toList()).size() < options.size()) {
        throw new IllegalArgumentException("two options are the same: " + options);
      }
    }

    /** The right option. */
    public Option key() {
      return options.stream().filter(Option::isKey).findFirst().orElseThrow();
    }

    /** The option with this id, if there is one. */
    public Optional<Option> option(String id) {
      return options.stream().filter(o -> o.id().equals(id)).findFirst();
    }
  }

  /**
   * Steps are put in order.
   *
   * @param procedure the work
   * @param steps in the order in which they are first shown, which does not work
   * @param precedences which of them must come before which
   */
  record Ordering(String stem, ProcedureId procedure, List<Placed> steps, List<Precedence> precedences)
      implements Interaction {

    /** Copies the lists and checks that the order shown does not work. */
    public Ordering {
      steps = List.copyOf(steps);
      precedences = List.copyOf(precedences);
      List<StepId> order = idsOf(steps);
      if (precedences.stream().allMatch(p -> order.indexOf(p.earlier()) < order.indexOf(p.later()))) {
        throw new IllegalArgumentException("the order in which the steps are first shown works: " + steps);
      }
    }

    /** The steps and precedences as the procedure that they were when the item was written. */
    public Procedure work() {
      List<Step> listed =
          steps.stream()
              .sorted(Comparator.comparingInt(Placed::listed))
              .map(
                  s ->
                      new Step(
                          s.id(), s.name(), s.name(), List.of(), List.of(), List.of(), List.of(), List.of(), List.of()))
              .toList();
      return new Procedure(
          procedure, stem, Procedure.Area.BEFORE_THE_WORK, "any", stem, stem, listed, precedences);
    }

    private static List<StepId> idsOf(List<Placed> steps) {
      return steps.stream().map(Placed::id).toList();
    }

    /** The steps in the order in which they are first shown. */
    public List<StepId> shown() {
      return idsOf(steps);
    }

    /** What this step is called; throws {@link IllegalArgumentException} if it is none of them. */
    public String name(StepId step) {
      return steps.stream()
          .filter(s -> s.id().equals(step))
          .map(Placed::name)
          .findFirst()
          .orElseThrow(() -> new IllegalArgumentException("no step " + step + " is to be put in order"));
    }
  }

  /**
   * A step that is to be put in its place.
   *
   * @param listed its place in the procedure as the curriculum lists it, from 0
   */
  record Placed(StepId id, String name, int listed) {}
}
