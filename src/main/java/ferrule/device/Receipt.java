package ferrule.device;

import java.util.Optional;
import java.util.UUID;

/**
 * What became of something that was brought in.
 *
 * @param state the outcome
 * @param words for the person whose it is
 * @param link where it can be looked at; empty if nowhere
 * @param subject the draft or sitting that it is about
 */
public record Receipt(State state, String words, String link, Optional<UUID> subject) {

  /** The outcomes. */
  public enum State {
    /** It is in the record, or its answer counts. */
    ENTERED,
    /** Something speaks against it: it is kept, and its person decides. */
    HELD,
    /** It is kept as it is, such as a draft that nobody has signed. */
    KEPT,
    /** It came too late to count. */
    LATE,
    /** It cannot be judged at this moment and is to be brought again; nothing was noted. */
    AGAIN;

    /** The word for it, as it is stored and sent. */
    public String word() {
      return name().toLowerCase(java.util.Locale.ROOT);
    }

    static State parse(String word) {
      return valueOf(word.toUpperCase(java.util.Locale.ROOT));
    }
  }
}
