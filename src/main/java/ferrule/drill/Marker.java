package ferrule.drill;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.naming.CreditPolicy;
import ferrule.naming.Reading;
import ferrule.naming.Rulings;
import ferrule.naming.TermReader;
import ferrule.naming.Verdict;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Judges answers. */
final class Marker {

  /** The verdict on an item that was passed over. */
  static final String NO_ANSWER = "no-answer";

  /** The verdict on a place that is right. */
  static final String RIGHT = "right";

  /** The verdict on an answer that an instructor has ruled out. */
  static final String NOT_ACCEPTED = "not-accepted";

  /** The verdict on an answer that an instructor lets count without making it a name. */
  static final String ACCEPTED_ONCE = "accepted-once";

  private static final String OTHER_PART = "other-part";

  private final Glossary glossary;
  private final PartNames names;
  private final Rulings rulings;
  private final List<RuledAnswer> once;

  /** A marker without rulings. */
  Marker(Glossary glossary) {
    this(glossary, Rulings.over(glossary), List.of());
  }

  /**
   * A marker under rulings.
   *
   * @param rulings those that stand for every answer
   * @param ruled all that are on record and not taken back, of which some accept the answers before them only
   */
  Marker(Glossary glossary, Rulings rulings, List<RuledAnswer> ruled) {
    this.glossary = glossary;
    this.names = new PartNames(glossary);
    this.rulings = rulings;
    this.once = ruled.stream().filter(r -> !r.ruling().isStanding()).toList();
  }

  /**
   * What an answer to an item counts.
   *
   * @param sight what the drawing shows: a typed name must single the part out among what is seen
   * @param colloquial whether a colloquial term counts as right
   */
  Outcome mark(Item item, Answer answer, Pictures.Sight sight, boolean colloquial) {
    if (answer instanceof Answer.Typed typed) {
      return typed.text().isEmpty() ? noAnswer(item) : named(item.key(), typed.text(), sight.seen(), colloquial);
    }
    return ((Answer.Pointed) answer).part().map(p -> pointed(item.key(), p, sight)).orElseGet(() -> noAnswer(item));
  }

  /** The form of a typed name in which rulings compare it; empty where nothing was typed. */
  static Optional<String> phrase(Answer answer) {
    return answer instanceof Answer.Typed typed
        ? Optional.of(TermReader.normalForm(typed.text())).filter(phrase -> !phrase.isEmpty())
        : Optional.empty();
  }

  private Outcome noAnswer(Item item) {
    return new Outcome(NO_ANSWER, 0, "You gave no answer. It is the " + names.term(item.key()) + ".", Optional.empty());
  }

  private Outcome named(ConceptId key, String typed, Set<ConceptId> shown, boolean colloquial) {
    Verdict verdict = rulings.judge(key, typed, shown);
    double credit = CreditPolicy.standard().withColloquial(colloquial).credit(verdict);
    return new Outcome(code(verdict), credit, verdict.sentence(), takenFor(verdict));
  }

  // an answer that was ruled out is not one that awaits a ruling
  private static String code(Verdict verdict) {
    return verdict.reading().obstacle() == Reading.Obstacle.RULED_OUT ? NOT_ACCEPTED : verdict.code();
  }

  /**
   * What an answer that was given before counts now.
   *
   * @param sight what its drawing shows
   * @param colloquial whether a colloquial term counts as right in its drill
   */
  Outcome again(Response response, Pictures.Sight sight, boolean colloquial) {
    Item item = response.item();
    return phrase(response.answer()).filter(phrase -> isAcceptedOnce(item.key(), phrase, response)).isPresent()
        ? new Outcome(
            ACCEPTED_ONCE,
            1,
            "Your instructor let that count this once. Its name is " + names.term(item.key()) + ".",
            Optional.empty())
        : mark(item, response.answer(), sight, colloquial);
  }

  private boolean isAcceptedOnce(ConceptId key, String phrase, Response response) {
    return once.stream()
        .filter(r -> r.ruling().part().equals(key) && r.ruling().phrase().equals(phrase))
        .anyMatch(r -> !response.answeredAt().isAfter(r.ruledAt()));
  }

  private static Optional<ConceptId> takenFor(Verdict verdict) {
    List<Concept> read = verdict.reading().parts();
    boolean other = verdict instanceof Verdict.OtherPart || verdict instanceof Verdict.WrongQualifier;
    return other && read.size() == 1 ? Optional.of(read.get(0).id()) : Optional.empty();
  }

  private Outcome pointed(ConceptId key, ConceptId at, Pictures.Sight sight) {
    String asked = names.term(key);
    if (at.equals(key)) {
      return new Outcome(RIGHT, 1, "That is the " + asked + ".", Optional.empty());
    }
    if (liesOn(at, key, sight)) {
      return new Outcome(
          RIGHT, 1, "That is the " + names.term(at) + ", which belongs to the " + asked + ".", Optional.empty());
    }
    return new Outcome(
        OTHER_PART, 0, "That is the " + names.term(at) + ", not the " + asked + ".", Optional.of(at));
  }

  /**
   * Whoever is asked for the bell and points at its throat has found it, and so has whoever points at one of the pieces
   * of a brace that is drawn in pieces only.
   */
  private boolean liesOn(ConceptId at, ConceptId whole, Pictures.Sight sight) {
    boolean isPlaceOfIt = glossary.get(at).level() == Level.REGION || !sight.shapes().contains(whole);
    return isPlaceOfIt && glossary.wholesOf(at).stream().anyMatch(w -> w.id().equals(whole));
  }
}
