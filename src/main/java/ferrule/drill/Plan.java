package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
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
 * @param blueprint how many of which kind about which assembly; empty to let all have their share
 * @param failedFirst whether what an apprentice failed lately is asked for before anything else
 */
public record Plan(
    List<ConceptId> assemblies,
    List<ConceptId> parts,
    Set<ItemKind> kinds,
    int length,
    boolean colloquial,
    Optional<Blueprint> blueprint,
    boolean failedFirst) {

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
    if (blueprint.filter(b -> b.length() != length).isPresent()) {
      throw new IllegalArgumentException("the blueprint does not ask for " + length + " items: " + blueprint.get());
    }
  }

  /** A plan without a blueprint, in which all have their share. */
  public Plan(List<ConceptId> assemblies, List<ConceptId> parts, Set<ItemKind> kinds, int length, boolean colloquial) {
    this(assemblies, parts, kinds, length, colloquial, Optional.empty(), false);
  }

  /**
   * A plan that follows a blueprint.
   *
   * @param assemblies those from which cells without an assembly are filled
   */
  public static Plan of(Blueprint blueprint, List<ConceptId> assemblies, boolean colloquial) {
    Set<ItemKind> kinds = new LinkedHashSet<>(blueprint.cells().stream().map(Blueprint.Cell::kind).toList());
    return new Plan(
        assemblies, List.of(), kinds, blueprint.length(), colloquial, Optional.of(blueprint), false);
  }

  /** The same, with what an apprentice failed lately before anything else, or not. */
  public Plan withFailedFirst(boolean first) {
    return new Plan(assemblies, parts, kinds, length, colloquial, blueprint, first);
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

  /** The same, with everyday names counting as right or not. */
  Plan withColloquial(boolean right) {
    return new Plan(assemblies, parts, kinds, length, right, blueprint, failedFirst);
  }
}
