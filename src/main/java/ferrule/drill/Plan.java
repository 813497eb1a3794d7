package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * What a drill asks: which parts, in which ways, how many of them.
 *
 * @param assemblies the assemblies whose parts are asked for, in the order of the glossary; empty if {@code parts} says
 *     which
 * @param parts the parts to ask for, one by one; empty if {@code assemblies} says which
 * @param kinds the ways of asking, at least one
 * @param length how many items, from 1 to {@value #LONGEST}
 * @param colloquial whether a name that people say but a shop ticket should not carry counts as right
 */
public record Plan(
    List<ConceptId> assemblies, List<ConceptId> parts, Set<ItemKind> kinds, int length, boolean colloquial) {

  /** The most items that one drill may have. */
  public static final int LONGEST = 60;

  /** Copies the collections and checks that there is something to ask. */
  public Plan {
    assemblies = List.copyOf(new LinkedHashSet<>(assemblies));
    parts = List.copyOf(new LinkedHashSet<>(parts));
    kinds = Collections.unmodifiableSet(new LinkedHashSet<>(kinds));
    if (assemblies.isEmpty() == parts.isEmpty()) {
      throw new IllegalArgumentException("a plan names assemblies or parts, not both and not neither");
    }
    if (kinds.isEmpty()) {
      throw new IllegalArgumentException("a plan needs at least one way of asking");
    }
    if (length < 1 || length > LONGEST) {
      throw new IllegalArgumentException("a drill has 1 to " + LONGEST + " items; given: " + length);
    }
  }

  /** A plan that asks for parts of these assemblies. */
  public static Plan ofAssemblies(List<ConceptId> assemblies, Set<ItemKind> kinds, int length, boolean colloquial) {
    return new Plan(assemblies, List.of(), kinds, length, colloquial);
  }

  /** A plan that asks for exactly these parts, at most {@value #LONGEST} of them, each once. */
  public static Plan ofParts(List<ConceptId> parts, Set<ItemKind> kinds, boolean colloquial) {
    Set<ConceptId> each = new LinkedHashSet<>(parts);
    return new Plan(List.of(), List.copyOf(each), kinds, Math.min(LONGEST, each.size()), colloquial);
  }
}
