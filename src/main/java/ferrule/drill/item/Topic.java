package ferrule.drill.item;

import ferrule.glossary.ConceptId;
import java.util.Set;

/**
 * What one question can be about. In one drill no two questions have the same {@link #once}, because one would answer
 * the other.
 *
 * @param key the part that is the right answer, or that the question is about
 * @param once what is asked for once in a drill
 * @param id what the writer knows it by
 * @param assemblies the assemblies under which an instructor picks it
 * @param hardness how hard the question is made by what it is about, in log odds; 0 is usual
 */
public record Topic(ConceptId key, String once, String id, Set<ConceptId> assemblies, double hardness) {

  /** Copies the set. */
  public Topic {
    assemblies = Set.copyOf(assemblies);
  }
}
