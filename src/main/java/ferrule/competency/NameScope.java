package ferrule.competency;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import java.util.stream.Collectors;

/** Which parts of each assembly count where a rule asks for its names. Thread-safe. */
public final class NameScope {

  private final Collection<Glossary> glossaries;
  private final Supplier<Set<ConceptId>> askable;
  private final Map<ConceptId, Set<ConceptId>> parts = new ConcurrentHashMap<>();

  /**
   * The scope of these glossaries.
   *
   * @param askable the parts that a drill can ask for, asked for when first needed; an assembly none of whose parts can
   *     be asked for counts all
   */
  public NameScope(Collection<Glossary> glossaries, Supplier<Set<ConceptId>> askable) {
    this.glossaries = List.copyOf(glossaries);
    this.askable = askable;
  }

  /** How many of an assembly's parts were asked for, and named right. */
  PartsNamed count(ConceptId assembly, NamingStore.Named named) {
    Set<ConceptId> scope = parts.computeIfAbsent(assembly, this::partsOf);
    int right = 0;
    int asked = 0;
    for (ConceptId part : scope) {
      right += named.right().contains(part) ? 1 : 0;
      asked += named.asked().contains(part) ? 1 : 0;
    }
    return new PartsNamed(right, asked, scope.size());
  }

  private Set<ConceptId> partsOf(ConceptId assembly) {
    Glossary glossary = glossaries.stream()
        .filter(g -> g.find(assembly).isPresent())
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no glossary has an assembly " + assembly));
    Set<ConceptId> all = glossary.allWithin(assembly).stream()
        .filter(Concept::isNameable)
        .map(Concept::id)
        .collect(Collectors.toCollection(LinkedHashSet::new));
    Set<ConceptId> asked = new LinkedHashSet<>(all);
    asked.retainAll(askable.get());
    return asked.isEmpty() ? all : asked;
  }
}
