package ferrule.drill;

import ferrule.naming.Ruling.Decision;
import java.util.Optional;

/** The words for an instructor's decisions, as they are stored and as forms carry them. */
enum RulingWord {
  TERM("term"),
  COLLOQUIAL("colloquial"),
  MISSPELLING("misspelling"),
  ONCE("once"),
  NOT_ACCEPTED("not-accepted");

  private final String word;

  RulingWord(String word) {
    this.word = word;
  }

  String word() {
    return word;
  }

  static Optional<RulingWord> find(String word) {
    for (RulingWord w : values()) {
      if (w.word.equals(word)) {
        return Optional.of(w);
      }
    }
    return Optional.empty();
  }

  static RulingWord of(Decision decision) {
    if (decision instanceof Decision.AcceptAsTerm) {
      return TERM;
    } else if (decision instanceof Decision.AcceptAsColloquial) {
      return COLLOQUIAL;
    } else if (decision instanceof Decision.AcceptAsMisspelling) {
      return MISSPELLING;
    }
    return decision instanceof Decision.AcceptOnce ? ONCE : NOT_ACCEPTED;
  }

  /** The reason that goes with a decision; empty for all but a refusal. */
  static String reason(Decision decision) {
    return decision instanceof Decision.Reject reject ? reject.because() : "";
  }

  /**
   * The decision.
   *
   * @param reason why not, for a refusal, which is not without one; otherwise not looked at
   */
  Decision decision(String reason) {
    return switch (this) {
      case TERM -> new Decision.AcceptAsTerm();
      case COLLOQUIAL -> new Decision.AcceptAsColloquial();
      case MISSPELLING -> new Decision.AcceptAsMisspelling();
      case ONCE -> new Decision.AcceptOnce();
      case NOT_ACCEPTED -> new Decision.Reject(reason);
    };
  }

  /** Whether it adds a name to the part. */
  boolean teaches() {
    return this == TERM || this == COLLOQUIAL || this == MISSPELLING;
  }
}
