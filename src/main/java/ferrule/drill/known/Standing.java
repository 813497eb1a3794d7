package ferrule.drill.known;

import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/** How a part stands with an apprentice, in four words for people. */
public enum Standing {
  /** They named it, and would a week from now as well, and that is sure enough to say so. */
  FIRM("firm", "would still be named a week from now"),
  /** They named it and would now, but hardly a week from now. */
  WORKING_LOOSE("working loose", "would be named today, not a week from now"),
  /** They did not name it when it was asked for last, or would hardly name it now. */
  LOOSE("loose", "you missed last time, or have likely lost since"),
  /** It was never asked for, so that anything said of it is only a guess. */
  NOT_ASKED("not asked yet", "never came up");

  /** A part counts as one that would be named if that is likelier than this. */
  public static final double NAMED = 0.7;

  private final String words;
  private final String meaning;

  Standing(String words, String meaning) {
    this.words = words;
    this.meaning = meaning;
  }

  /** How a part stands with an apprentice at a moment. */
  public static Standing of(Knowledge knowledge, UUID person, ConceptId part, Instant now) {
    Optional<Trace> trace = knowledge.trace(person, part);
    if (trace.isEmpty()) {
      return NOT_ASKED;
    }
    if (trace.get().missed()) {
      return LOOSE;
    }
    Chance week = knowledge.chance(person, part, now.plus(Chooser.AHEAD));
    if (week.likely() > NAMED && !week.isUnsure()) {
      return FIRM;
    }
    return knowledge.chance(person, part, now).likely() > NAMED ? WORKING_LOOSE : LOOSE;
  }

  /** The word for it, such as "working loose". */
  public String words() {
    return words;
  }

  /** What it means, as the end of a sentence about the part. */
  public String meaning() {
    return meaning;
  }
}
