package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** The parts that a drill can ask for, each with the drawing that shows it best. */
public final class ItemPool {

  private final Map<ConceptId, Showing> showings;

  /** A pool of these showings; of two that show the same part the first is kept. */
  public ItemPool(Collection<Showing> showings) {
    Map<ConceptId, Showing> byPart = new LinkedHashMap<>();
    showings.forEach(s -> byPart.putIfAbsent(s.part(), s));
    this.showings = Collections.unmodifiableMap(byPart);
  }

  /** How this part is shown, if a drawing shows it well enough to ask for it. */
  public Optional<Showing> find(ConceptId part) {
    return Optional.ofNullable(showings.get(part));
  }

  /** The assemblies that have parts to ask for, in the pool's order. */
  public List<ConceptId> assemblies() {
    return showings.values().stream().map(Showing::home).distinct().toList();
  }

  /** How many parts of this assembly can be asked for. */
  public int sizeOf(ConceptId assembly) {
    return (int) showings.values().stream().filter(s -> s.home().equals(assembly)).count();
  }

  /** Every part that can be asked for, in the pool's order. */
  public Set<ConceptId> parts() {
    return showings.keySet();
  }

  /** What is in the scope of a plan, in the pool's order; parts that no drawing shows are not. */
  public List<Showing> inScope(Plan plan) {
    Set<ConceptId> homes = new LinkedHashSet<>(plan.assemblies());
    Set<ConceptId> parts = new LinkedHashSet<>(plan.parts());
    return showings.values().stream()
        .filter(s -> homes.contains(s.home()) || parts.contains(s.part()))
        .toList();
  }
}
