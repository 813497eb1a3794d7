package ferrule.drill;

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
record ResponseView(
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
        r.item().kind() == ItemKind.NAME ? "Name" : "Find",
        names.heading(r.item().key()),
        said(r.answer(), names),
        state(r.now()),
        word(r.now()),
        r.now().reason(),
        !r.now().verdict().equals(r.first().verdict()) || r.now().credit() != r.first().credit(),
        r.disputed(),
        r.id());
  }

  static String said(Answer answer, PartNames names) {
    if (answer instanceof Answer.Typed typed) {
      return typed.text();
    }
    return ((Answer.Pointed) answer).part().map(names::term).orElse("");
  }

  /** The state of the tag beside an outcome. */
  static String state(Outcome outcome) {
    return outcome.isRight() ? "good" : outcome.isPartly() ? "open" : "bad";
  }

  /** The verdict in a word or two. */
  static String word(Outcome outcome) {
    return switch (outcome.verdict()) {
      case "right", "right-synonym" -> "Right";
      case "right-colloquial" -> "Everyday name";
      case "too-vague" -> "Too vague";
      case "wrong-qualifier" -> "Nearly";
      case "other-part" -> "Another part";
      case Marker.ACCEPTED_ONCE -> "Accepted";
      case Marker.NOT_ACCEPTED -> "Not accepted";
      case Marker.NO_ANSWER -> "No answer";
      default -> outcome.isRight() ? "Right" : "Not understood";
    };
  }

  /** Points without a needless decimal, such as "17" or "17.5". */
  static String points(double credit) {
    return credit == Math.rint(credit)
        ? String.valueOf((long) credit)
        : String.format(Locale.ROOT, "%.2f", credit).replaceAll("0$", "");
  }
}
