package ferrule.drill;

import ferrule.naming.Ruling;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * An instructor's ruling on an answer, on record.
 *
 * @param id never changes
 * @param glossary the id of the glossary
 * @param edition the edition of the curriculum in which it was made
 * @param typed the answer as somebody typed it
 * @param ruling what was decided, about which part
 * @param ruledBy the instructor
 * @param ruledAt when
 * @param undoneAt when it was taken back, if it was
 */
public record RuledAnswer(
    UUID id,
    String glossary,
    String edition,
    String typed,
    Ruling ruling,
    UUID ruledBy,
    Instant ruledAt,
    Optional<Instant> undoneAt) {

  /** The most characters that a reason may have. */
  public static final int LONGEST_REASON = 300;

  /** Whether it holds. */
  public boolean stands() {
    return undoneAt.isEmpty();
  }
}
