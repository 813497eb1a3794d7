package ferrule.competency;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Set;

/** Which parts of each assembly count where a rule asks for its names. Immutable. */
public final class NameScope {

  private final Map<ConceptId, Set<ConceptId>> parts = new LinkedHashMap<>();

  /**
   * The scope of these glossaries.
   *
   * @param askable the parts that a drill can ask for; an assembly none of whose parts can be asked for counts all
   */
  public NameScope(Collection<Glossary> glossaries, Set<ConceptId> askable) {
    for (Glossary glossary : glossaries) {
      for (Concept assembly : glossary.assemblies()) {
        Set<ConceptId> all = new LinkedHashSet<>();
        glossary.allWithin(assembly.id()).stream().filter(Concept::isNameable).forEach(c -> all.add(c.id()));
        Set<ConceptId> asked = new LinkedHashSet<>(all);
        asked.retainAll(askable);
        parts.put(assembly.id(), asked.isEmpty() ? all : asked);
      }
    }
  }

  /** How many of an assembly's parts are among those named right. */
  PartsNamed count(ConceptId assembly, Set<ConceptId> right) {
    Set<ConceptId> scope = parts.getOrDefault(assembly, Set.of(assembly));
    int named = (int) scope.stream().filter(right::contains).count();
    return new PartsNamed(named, Math.max(1, scope.size()));
  }
}
