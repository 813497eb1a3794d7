package ferrule.drill;

import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.glossary.ConceptId;
import ferrule.procedure.StepId;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * The fields in which an answer to an item is sent, from a page or from a device that had no network: {@code answer},
 * {@code option}, {@code shape} or {@code number}, {@code step} for each step, or {@code pass}.
 */
final class AnswerForm {

  private final Pictures pictures;
  private final Item item;
  private final Function<String, List<String>> fields;

  /**
   * The form of an item.
   *
   * @param fields gives all values of a field, as they were sent
   */
  AnswerForm(Pictures pictures, Item item, Function<String, List<String>> fields) {
    this.pictures = pictures;
    this.item = item;
    this.fields = fields;
  }

  private Optional<String> text(String name) {
    return fields.apply(name).stream().findFirst().map(String::strip).filter(text -> !text.isEmpty());
  }

  private boolean isPassed() {
    return text("pass").isPresent();
  }

  /** What is wrong with it, in a sentence; empty if it is an answer. */
  String problem() {
    if (isPassed()) {
      return "";
    }
    if (item.kind().isPointed()) {
      return place().isPresent()
          ? ""
          : "Choose a part on the drawing first, or say that you do not know.";
    }
    if (item.kind().isChosen()) {
      return option().isPresent() ? "" : "Choose one of the answers first, or say that you do not know.";
    }
    if (item.kind().isOrdered()) {
      return steps().isPresent()
          ? ""
          : "The order that was sent does not hold each step once. Put the steps in order again.";
    }
    String typed = text("answer").orElse("");
    if (typed.isEmpty()) {
      return "Type the name of the part first, or say that you do not know.";
    }
    return typed.length() > Answer.LONGEST ? "A name has at most " + Answer.LONGEST + " characters." : "";
  }

  /** The answer; only where there is no problem. */
  Answer answer() {
    if (isPassed()) {
      return Answer.none(item.kind());
    }
    if (item.kind().isTyped()) {
      return new Answer.Typed(text("answer").orElseThrow());
    }
    if (item.kind().isChosen()) {
      return new Answer.Chosen(option());
    }
    return item.kind().isOrdered()
        ? new Answer.Ordered(steps().orElseThrow().stream().map(StepId::value).toList())
        : new Answer.Pointed(place());
  }

  /** The steps that were sent, if each of them was sent once. */
  Optional<List<StepId>> steps() {
    Interaction.Ordering ordering = item.ordering().orElseThrow();
    List<String> sent = fields.apply("step");
    Set<String> all = ordering.shown().stream().map(StepId::value).collect(Collectors.toSet());
    boolean whole = sent.size() == all.size() && all.equals(new HashSet<>(sent));
    return whole ? Optional.of(sent.stream().map(StepId::of).toList()) : Optional.empty();
  }

  /** The option that was chosen, by its place: its id could tell. */
  private Optional<String> option() {
    List<Option> options = item.choice().orElseThrow().options();
    return number("option").filter(n -> n >= 1 && n <= options.size()).map(n -> options.get(n - 1).id());
  }

  private Optional<ConceptId> place() {
    return number("shape")
        .flatMap(n -> pictures.shape(item, n))
        .or(() -> number("number").flatMap(n -> pictures.numbered(item, n)));
  }

  private Optional<Integer> number(String field) {
    return text(field).filter(n -> n.matches("[0-9]{1,4}")).map(Integer::parseInt);
  }
}
