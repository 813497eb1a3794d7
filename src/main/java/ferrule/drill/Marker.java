package ferrule.drill;

import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import ferrule.naming.CreditPolicy;
import ferrule.naming.Reading;
import ferrule.naming.Rulings;
import ferrule.naming.TermReader;
import ferrule.naming.Verdict;
import ferrule.procedure.OrderJudge;
import ferrule.procedure.OrderVerdict;
import ferrule.procedure.StepId;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;

/** Judges answers. */
public final class Marker {

  /** The verdict on an item that was passed over. */
  public static final String NO_ANSWER = "no-answer";

  /** The verdict on a place that is right. */
  static final String RIGHT = "right";

  /** The verdict on an answer that an instructor has ruled out. */
  static final String NOT_ACCEPTED = "not-accepted";

  /** The verdict on an answer that an instructor lets count without making it a name. */
  static final String ACCEPTED_ONCE = "accepted-once";

  /** The verdict on a second term that is the one shown. */
  static final String SAME_TERM = "same-term";

  /** The verdict on an option that is a distractor and no part. */
  static final String OTHER_OPTION = "other-option";

  /** The verdict on an order in which something comes before what it needs. */
  static final String ORDER_BROKEN = "order-broken";

  private static final String COLLOQUIAL = "right-colloquial";
  private static final String OTHER_PART = "other-part";

  private final Glossary glossary;
  private final PartNames names;
  private final ItemWords words;
  private final Rulings rulings;
  private final List<RuledAnswer> once;
  private final OptionalLong made;

  /** A marker without rulings. */
  Marker(Glossary glossary) {
    this(glossary, Rulings.over(glossary), List.of(), OptionalLong.empty());
  }

  /**
   * A marker under rulings.
   *
   * @param rulings those that stand for every answer
   * @param ruled all that are on record and not taken back, of which some accept the answers before them only
   * @param made how often rulings had been made or taken back by then
   */
  Marker(Glossary glossary, Rulings rulings, List<RuledAnswer> ruled, OptionalLong made) {
    this.glossary = glossary;
    this.names = new PartNames(glossary);
    this.words = new ItemWords(names);
    this.rulings = rulings;
    this.once = ruled.stream().filter(r -> !r.ruling().isStanding()).toList();
    this.made = made;
  }

  /**
   * What an answer counts that is given at this moment, and by which rulings; what is not typed is under none.
   *
   * @param sight what the drawing shows
   * @param colloquial whether a colloquial term counts as right in its drill
   */
  Judgement judge(Item item, Answer answer, Instant at, Pictures.Sight sight, boolean colloquial) {
    return new Judgement(
        mark(item, answer, at, sight, colloquial), phrase(answer).isPresent() ? made : OptionalLong.empty());
  }

  /**
   * What an answer to an item counts.
   *
   * @param sight what the drawing shows: a typed name must single the part out among what is seen
   * @param colloquial whether a colloquial term counts as right
   */
  public Outcome mark(Item item, Answer answer, Pictures.Sight sight, boolean colloquial) {
    if (answer instanceof Answer.Typed typed) {
      return typed.text().isEmpty() ? noAnswer(item) : typed(item, typed.text(), sight.seen(), colloquial);
    }
    if (answer instanceof Answer.Chosen chosen) {
      return chosen.option().map(o -> chosen(item, o, sight.seen())).orElseGet(() -> noAnswer(item));
    }
    if (answer instanceof Answer.Ordered ordered) {
      return ordered.steps().isEmpty() ? noAnswer(item) : ordered(item.ordering().orElseThrow(), ordered.steps());
    }
    return ((Answer.Pointed) answer).part().map(p -> pointed(item.key(), p, sight)).orElseGet(() -> noAnswer(item));
  }

  private Outcome typed(Item item, String typed, Set<ConceptId> shown, boolean colloquial) {
    Outcome asName = named(item.key(), typed, shown, colloquial);
    return item.kind() == ItemKind.SECOND_TERM ? asSecondTerm(item.key(), asName) : asName;
  }

  /** A second term counts if it names the part and is not the term that was shown, or what is left of it. */
  private Outcome asSecondTerm(ConceptId key, Outcome asName) {
    if (asName.verdict().equals(RIGHT)) {
      return new Outcome(
          SAME_TERM, 0, "That is the name that was shown, " + names.term(key) + ". Another one was asked for.",
          Optional.empty());
    }
    return asName.isRight() || asName.verdict().equals(COLLOQUIAL)
        ? new Outcome(asName.verdict(), asName.credit(), secondTermReason(asName), Optional.empty())
        : new Outcome(asName.verdict(), 0, asName.reason(), asName.takenFor());
  }

  private static String secondTermReason(Outcome asName) {
    return asName.verdict().equals(COLLOQUIAL)
        ? "People say that too, but it is an everyday name and not one for a shop ticket."
        : "Right, the trade says that too.";
  }

  /** Where the options are names, naming says what is wrong with the one that was chosen. */
  private Outcome chosen(Item item, String id, Set<ConceptId> shown) {
    Interaction.Choice choice = item.choice().orElseThrow();
    Option option =
        choice.option(id).orElseThrow(() -> new IllegalArgumentException("the item has no option " + id));
    if (option.isKey()) {
      String because = option.because().isEmpty() ? "" : " " + option.because();
      return new Outcome(RIGHT, 1, "Right: " + option.text() + "." + because, Optional.empty());
    }
    String reason =
        item.kind() == ItemKind.CHOOSE_NAME
            ? rulings.judge(item.key(), option.text(), shown).sentence()
            : (option.because() + " The right answer is: " + choice.key().text() + ".").strip();
    Optional<ConceptId> takenFor = item.kind().asksForName() ? option.part() : Optional.empty();
    return new Outcome(takenFor.isPresent() ? OTHER_PART : OTHER_OPTION, 0, reason, takenFor);
  }

  /** Credit is {@link OrderVerdict#credit}: Kendall's tau over the pairs of steps whose order matters. */
  private static Outcome ordered(Interaction.Ordering ordering, List<String> steps) {
    OrderVerdict verdict = OrderJudge.judge(ordering.work(), steps.stream().map(StepId::of).toList());
    if (verdict.isRight()) {
      return new Outcome(RIGHT, 1, "That order works.", Optional.empty());
    }
    int moves = verdict.moves().size();
    String first = verdict.slips().get(0).objection();
    return new Outcome(
        ORDER_BROKEN,
        verdict.credit(),
        (moves == 1 ? "One step is to be moved. " : moves + " steps are to be moved. ")
            + first + (first.endsWith(".") ? "" : "."),
        Optional.empty());
  }

  /** The form of a typed name in which rulings compare it; empty where nothing was typed. */
  public static Optional<String> phrase(Answer answer) {
    return answer instanceof Answer.Typed typed
        ? Optional.of(TermReader.normalForm(typed.text())).filter(phrase -> !phrase.isEmpty())
        : Optional.empty();
  }

  private Outcome noAnswer(Item item) {
    String told = item.ordering().isPresent() ? "" : " The answer is: " + String.join("; ", words.key(item)) + ".";
    return new Outcome(NO_ANSWER, 0, "You gave no answer." + told, Optional.empty());
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
    return mark(response.item(), response.answer(), response.answeredAt(), sight, colloquial);
  }

  private Outcome mark(Item item, Answer answer, Instant at, Pictures.Sight sight, boolean colloquial) {
    return phrase(answer).filter(phrase -> isAcceptedOnce(item.key(), phrase, at)).isPresent()
        ? new Outcome(
            ACCEPTED_ONCE,
            1,
            "Your instructor let that count this once. Its name is " + names.term(item.key()) + ".",
            Optional.empty())
        : mark(item, answer, sight, colloquial);
  }

  private boolean isAcceptedOnce(ConceptId key, String phrase, Instant at) {
    return once.stream()
        .filter(r -> r.ruling().part().equals(key) && r.ruling().phrase().equals(phrase))
        .anyMatch(r -> !at.isAfter(r.ruledAt()));
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
