package ferrule.glossary;

import static ferrule.glossary.TrumpetGlossary.GLOSSARY;
import static ferrule.glossary.TrumpetGlossary.id;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/**
 * The integrity conditions of the SKOS Reference, W3C Recommendation, 18 August 2009, on the trumpet's glossary.
 *
 * <p>How the glossary reads as SKOS: the file is a concept scheme, named by its folder; an entry is a concept, named by
 * folder and id; preferred, alternative and hidden terms are the three kinds of label, all in the one language of the
 * file; {@code broader} is skos:broader; {@code connects} is skos:related; a facet groups concepts as a collection
 * does. {@code part-of}, {@code carries} and {@code joins} are relations of our own and no SKOS relation.
 */
class SkosIntegrityTest {

  /** S9: concept schemes and concepts are disjoint. S37: so are collections and both of them. */
  @Test
  void s9AndS37NothingIsTwoOfSchemeConceptAndCollection() {
    Set<String> names = new HashSet<>();
    List<String> all = resources(GLOSSARY);
    all.forEach(names::add);
    assertEquals(all.size(), names.size());
    assertEquals(1 + GLOSSARY.concepts().size() + GLOSSARY.facets().size(), names.size());
  }

  /** The names under which scheme, concepts and collections would be published. */
  private static List<String> resources(Glossary glossary) {
    return Stream.of(
            Stream.of(glossary.id()),
            glossary.concepts().stream().map(c -> glossary.id() + "/" + c.id()),
            // a facet has the name of a concept if their ids are the same, which must not be
            glossary.facets().stream().map(f -> glossary.id() + "/" + f.id()))
        .flatMap(s -> s).toList();
  }

  @Test
  void aFacetWithTheNameOfAConceptBreaksS37() {
    Facet valve = new Facet("stem", "which stem",
        List.of(new Facet.Value("a", "a", List.of()), new Facet.Value("b", "b", List.of())));
    Glossary bad = glossary(List.of(valve), concept("stem", "stem", Optional.empty(), List.of()));
    assertEquals(3, resources(bad).size());
    assertEquals(2, Set.copyOf(resources(bad)).size());
  }

  /** S13: for one concept, preferred, alternative and hidden labels are disjoint. */
  @Test
  void s13ALabelHasOneRoleForAConcept() {
    assertEquals(List.of(), labelsInTwoRoles(GLOSSARY));
  }

  private static List<String> labelsInTwoRoles(Glossary glossary) {
    List<String> found = new ArrayList<>();
    for (Concept c : glossary.concepts()) {
      Map<String, Set<TermRole>> roles = c.terms().stream().collect(
          Collectors.groupingBy(Term::text, Collectors.mapping(Term::role, Collectors.toSet())));
      roles.forEach((text, in) -> {
        if (in.size() > 1) {
          found.add(c.id() + ": " + text);
        }
      });
    }
    return found;
  }

  @Test
  void aLabelInTwoRolesBreaksS13() {
    Concept twice = new Concept(id("stem"), Level.PART,
        List.of(Term.of("stem", TermRole.PREFERRED), Term.of("stem", TermRole.COLLOQUIAL)), "A rod.", Optional.empty(),
        Optional.empty(), List.of(), List.of(), List.of(), Map.of(), Set.of(), true);
    assertEquals(List.of("stem: stem"), labelsInTwoRoles(glossary(List.of(), twice)));
  }

  /**
   * S14: at most one preferred label for each language tag. All labels of the file have the one tag that the file
   * gives, so there is exactly one preferred label; the type refuses another.
   */
  @Test
  void s14AConceptHasOnePreferredLabelInTheOneLanguage() {
    YamlNode root = Curriculum.bundled().read("trumpet/glossary.yaml", "glossary", new Problems()).orElseThrow();
    assertEquals("en", root.text("language"));
    for (Concept c : GLOSSARY.concepts()) {
      assertEquals(1, c.termsIn(TermRole.PREFERRED).size(), c.id().value());
    }
    List<Term> two = List.of(Term.of("stem", TermRole.PREFERRED), Term.of("rod", TermRole.PREFERRED));
    assertThrows(IllegalArgumentException.class, () -> new Concept(id("stem"), Level.PART, two, "A rod.",
        Optional.empty(), Optional.empty(), List.of(), List.of(), List.of(), Map.of(), Set.of(), true));
  }

  /** S27: related and broader-transitive are disjoint: nothing connects to a kind above it or below it. */
  @Test
  void s27NothingConnectsToItsOwnKind() {
    assertEquals(List.of(), connectedToOwnKind(GLOSSARY));
  }

  private static List<String> connectedToOwnKind(Glossary glossary) {
    List<String> found = new ArrayList<>();
    for (Concept c : glossary.concepts()) {
      for (ConceptId related : c.connects()) {
        Concept other = glossary.get(related);
        if (glossary.kindsOf(c.id()).contains(other) || glossary.kindsOf(related).contains(c)) {
          found.add(c.id() + " - " + related);
        }
      }
    }
    return found;
  }

  @Test
  void aPartConnectedToItsKindBreaksS27() {
    Concept kind = concept("tube", "tube", Optional.empty(), List.of());
    Concept middle = concept("slide-tube", "slide tube", Optional.of(id("tube")), List.of());
    Concept part = concept("leg", "leg", Optional.of(id("slide-tube")), List.of(id("tube")));
    assertEquals(List.of("leg - tube"), connectedToOwnKind(glossary(List.of(), kind, middle, part)));
  }

  /**
   * S46: an exact match is not also a broader or related match. It does not apply: the glossary states no match with
   * another scheme. This test fails as soon as the schema of the file has room for one.
   */
  @Test
  void s46DoesNotApplyBecauseNoMatchesAreStated() throws IOException {
    String schema = Files.readString(Path.of("curriculum/schema/glossary.schema.json"));
    assertFalse(schema.toLowerCase(Locale.ROOT).contains("match"));
  }

  private static Concept concept(String id, String term, Optional<ConceptId> broader, List<ConceptId> connects) {
    return new Concept(id(id), Level.PART, List.of(Term.of(term, TermRole.PREFERRED)), "Something.", broader,
        Optional.empty(), connects, List.of(), List.of(), Map.of(), Set.of(), true);
  }

  private static Glossary glossary(List<Facet> facets, Concept... concepts) {
    return new Glossary("test", "Test", List.of(), facets, List.of(), List.of(concepts));
  }
}
