package ferrule.drill;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * An answer that was given, what it counted then and what it counts now.
 *
 * @param id never changes
 * @param sitting the sitting
 * @param item the item that it answers
 * @param answer what was answered
 * @param first what it counted when it was given
 * @param now what it counts after the rulings made since; the same as {@code first} where none touches it
 * @param ruling the ruling that {@code now} follows from, if one does
 * @param disputed whether the apprentice thinks that it was right
 * @param answeredAt when it was given
 */
public record Response(
    UUID id,
    UUID sitting,
    Item item,
    Answer answer,
    Outcome first,
    Outcome now,
    Optional<UUID> ruling,
    boolean disputed,
    Instant answeredAt) {

  /** The name that was typed, where the item asked for one. */
  public Optional<String> typed() {
    return answer instanceof Answer.Typed t ? Optional.of(t.text()) : Optional.empty();
  }
}
