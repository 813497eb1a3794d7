package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.Set;

/**
 * One question of a sitting. It says all that is needed to show it again exactly as it was.
 *
 * @param position its place in the sitting, from 1
 * @param kind what it asks for
 * @param key the part that is the right answer
 * @param view the id of the view that is drawn
 * @param variants the ids of the variants of the instrument that is drawn
 * @param pictureSeed what the order of the drawing's shapes is shuffled by
 */
public record Item(
    int position, ItemKind kind, ConceptId key, String view, Set<String> variants, long pictureSeed) {

  /** Copies the set and checks the position. */
  public Item {
    variants = Set.copyOf(variants);
    if (position < 1) {
      throw new IllegalArgumentException("positions count from 1; given: " + position);
    }
  }
}
