package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.Set;

/**
 * A part as one drawing shows it.
 *
 * @param part the part
 * @param home the assembly under which the part is picked, see {@link PartNames#home}
 * @param view the id of the view
 * @param variants the ids of the variants of the instrument that is drawn
 * @param area the visible area of its shape in px², where the drawing is 1,000 px wide
 */
public record Showing(ConceptId part, ConceptId home, String view, Set<String> variants, double area) {

  /** Copies the set and checks the area. */
  public Showing {
    variants = Set.copyOf(variants);
    if (!(area > 0)) {
      throw new IllegalArgumentException("a part that is shown has an area above 0; " + part + " has " + area);
    }
  }
}
