package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.util.List;
import java.util.UUID;

/**
 * A phrase that awaits a ruling as the name of a part.
 *
 * @param part the part that was asked for
 * @param phrase the normal form of the phrase
 * @param typed the ways in which it was typed, the latest first
 * @param times how often it was answered
 * @param people who answered it
 * @param disputed how many of the answers their apprentices think right
 * @param latestAt when it was last answered
 */
public record OpenAnswer(
    ConceptId part,
    String phrase,
    List<String> typed,
    int times,
    List<UUID> people,
    int disputed,
    Instant latestAt) {

  /** Copies the lists. */
  public OpenAnswer {
    typed = List.copyOf(typed);
    people = List.copyOf(people);
  }
}
