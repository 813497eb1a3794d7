package ferrule.drawing;

import ferrule.glossary.ConceptId;
import java.util.Set;

/**
 * One solid of a part.
 *
 * @param part the concept that it shows
 * @param material its look
 * @param solid its form and place in the instrument
 * @param variants the variants that it occurs in; of an axis that is not mentioned, in all
 */
public record Shape(ConceptId part, Material material, Solid solid, Set<String> variants) {

  /** Copies the set. */
  public Shape {
    variants = Set.copyOf(variants);
  }

  Shape moved(Vec by) {
    return new Shape(part, material, solid.moved(by), variants);
  }
}
