package ferrule.atlas;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Facet;
import ferrule.glossary.Glossary;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeSet;
import java.util.stream.Stream;

/**
 * A part that is easily taken for another: of the same kind, and different in one thing only.
 *
 * @param other the part that is taken for the first one
 * @param difference in what it differs, such as "lower, not upper"
 */
public record LookAlike(Concept other, String difference) {

  /**
   * The look-alikes of a part, in the order of the glossary. Two parts look alike if they are of one kind and the
   * answer to one facet's question sets them apart, or if they are of one kind and both join things, of which one is
   * the same.
   */
  static List<LookAlike> of(Glossary glossary, Concept part) {
    List<LookAlike> found = new ArrayList<>();
    for (Concept other : glossary.nameable()) {
      if (!other.id().equals(part.id()) && part.broader().isPresent() && other.broader().equals(part.broader())) {
        difference(glossary, part, other).ifPresent(d -> found.add(new LookAlike(other, d)));
      }
    }
    return found;
  }

  private static Optional<String> difference(Glossary glossary, Concept part, Concept other) {
    if (!part.joins().isEmpty() && !other.joins().isEmpty()) {
      return joined(glossary, part, other);
    }
    List<String> differing =
        new TreeSet<>(Stream.concat(part.qualifiers().keySet().stream(), other.qualifiers().keySet().stream()).toList())
            .stream().filter(f -> !Objects.equals(part.qualifiers().get(f), other.qualifiers().get(f))).toList();
    return differing.size() == 1 ? Optional.of(answers(glossary, differing.get(0), part, other)) : Optional.empty();
  }

  private static Optional<String> joined(Glossary glossary, Concept part, Concept other) {
    List<ConceptId> only = other.joins().stream().filter(j -> !part.joins().contains(j)).toList();
    if (only.size() != 1 || other.joins().size() < 2) {
      return Optional.empty();
    }
    ConceptId instead = part.joins().stream().filter(j -> !other.joins().contains(j)).findFirst().orElseThrow();
    return Optional.of("to the " + glossary.get(only.get(0)).term() + ", not to the " + glossary.get(instead).term());
  }

  private static String answers(Glossary glossary, String facet, Concept part, Concept other) {
    Optional<String> theirs = word(glossary, facet, other.qualifiers());
    Optional<String> ours = word(glossary, facet, part.qualifiers());
    if (theirs.isEmpty()) {
      return "not " + ours.orElseThrow();
    }
    return ours.map(o -> theirs.get() + ", not " + o).orElse(theirs.get());
  }

  private static Optional<String> word(Glossary glossary, String facet, Map<String, String> qualifiers) {
    return Optional.ofNullable(qualifiers.get(facet))
        .flatMap(value -> glossary.facet(facet).flatMap(f -> f.value(value)))
        .map(Facet.Value::term);
  }
}
