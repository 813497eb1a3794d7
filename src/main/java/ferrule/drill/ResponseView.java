package ferrule.drill;

import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import java.util.Locale;
import java.util.UUID;

/**
 * An answered item, in words.
 *
 * @param position its place in the sitting
 * @param asked what was asked, such as "Name" or "Find"
 * @param part the part's preferred term
 * @param said what was typed or pointed at
 * @param state the state of the tag: good, open or bad
 * @param word the verdict in a word or two
 * @param reason the verdict in a sentence
 * @param changed whether a ruling has changed what it counts
 * @param disputed whether the apprentice thinks that it was right
 * @param response the answer's id
 */
public record ResponseView(
    int position,
    String asked,
    String part,
    String said,
    String state,
    String word,
    String reason,
    boolean changed,
    boolean disputed,
    UUID response) {

  static ResponseView of(Response r, PartNames names) {
    return new ResponseView(
        r.item().position(),
        asked(r.item().kind()),
        heading(r.item(), names),
        said(r, names),
        state(r.now()),
        word(r.now()),
        r.now().reason(),
        !r.now().verdict().equals(r.first().verdict()) || r.now().credit() != r.first().credit(),
        r.disputed(),
        r.id());
  }

  private static String asked(ItemKind kind) {
    return switch (kind) {
      case NAME, CHOOSE_NAME -> "Name";
      case FIND -> "Find";
      default -> PartNames.capital(kind.brief());
    };
  }

  /** What it was about: the part, or for work the first sentence of the question, which names the work. */
  private static String heading(Item item, PartNames names) {
    String stem = item.interaction().stem();
    return item.kind().asksAboutPart() || !stem.contains(". ")
        ? names.heading(item.key())
        : stem.substring(0, stem.indexOf(". "));
  }

  private static String said(Response r, PartNames names) {
    if (r.answer() instanceof Answer.Chosen chosen) {
      Interaction.Choice choice = r.item().choice().orElseThrow();
      return chosen.option().flatMap(choice::option).map(Option::text).orElse("");
    }
    if (r.answer() instanceof Answer.Ordered ordered) {
      return ordered.steps().isEmpty() ? "" : "an order of " + ordered.steps().size() + " steps";
    }
    return said(r.answer(), names);
  }

  /** A name that was typed, or the name of a place that was pointed at. */
  static String said(Answer answer, PartNames names) {
    if (answer instanceof Answer.Typed typed) {
      return typed.text();
    }
    return answer instanceof Answer.Pointed pointed ? pointed.part().map(names::term).orElse("") : "";
  }

  /** The state of the tag beside an outcome. */
  public static String state(Outcome outcome) {
    return outcome.isRight() ? "good" : outcome.isPartly() ? "open" : "bad";
  }

  /** The verdict in a word or two. */
  public static String word(Outcome outcome) {
    return switch (outcome.verdict()) {
      case "right", "right-synonym" -> "Right";
      case "right-colloquial" -> "Everyday name";
      case "too-vague" -> "Too vague";
      case "wrong-qualifier" -> "Nearly";
      case "other-part" -> "Another part";
      case Marker.ACCEPTED_ONCE -> "Accepted";
      case Marker.NOT_ACCEPTED -> "Not accepted";
      case Marker.NO_ANSWER -> "No answer";
      case "paper-right" -> "Marked right";
      case "paper-half" -> "Marked half right";
      case "paper-wrong" -> "Marked wrong";
      case Marker.SAME_TERM -> "The same name";
      case Marker.OTHER_OPTION -> "Not that one";
      case Marker.ORDER_BROKEN -> outcome.isPartly() ? "Partly" : "Not in order";
      default -> outcome.isRight() ? "Right" : "Not understood";
    };
  }

  /** Points without a needless decimal, such as "17" or "17.5". */
  public static String points(double credit) {
    return credit == Math.rint(credit)
        ? String.valueOf((long) credit)
        : String.format(Locale.ROOT, "%.2f", credit).replaceAll("0$", "");
  }
}
