package ferrule.glossary;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class GlossaryReaderTest {

  private static final String KAZOO = """
      id: kazoo
      title: Kazoo
      language: en
      variants:
        - {id: tin, axis: metal, title: Tin kazoo}
        - {id: steel, axis: metal, title: Steel kazoo}
      facets:
        - id: end
          title: which end
          values:
            - {id: wide, term: wide, also: [big]}
            - {id: narrow, term: narrow}
      senses:
        - {id: body-cap, word: cap, gloss: the screwed ring}
        - {id: end-cap, word: cap, gloss: the plug}
      concepts:
        - id: opening
          level: kind
          term: opening
          alternative: [hole]
          definition: Where air passes.
        - id: body
          level: assembly
          term: body
          definition: The tube.
        - id: wide-opening
          level: region
          term: wide opening
          hidden: [{term: mouth, as: colloquial}, {term: wide openning, as: misspelling}]
          definition: Where the player hums in.
          broader: opening
          part-of: body
          qualifiers: {end: wide}
        - id: narrow-opening
          level: region
          term: narrow opening
          definition: Where the sound leaves.
          broader: opening
          part-of: body
          qualifiers: {end: narrow}
        - id: ring
          term: ring
          alternative: [{term: cap, sense: body-cap}]
          definition: The screwed ring over the membrane.
          part-of: body
          connects: [body]
          carries: [membrane]
          variants: [tin]
        - id: membrane
          term: membrane
          alternative: [skin]
          definition: The skin that buzzes.
          part-of: body
          drawn: false
        - id: plug
          term: plug
          alternative: [{term: cap, sense: end-cap}]
          definition: The cork in the narrow end.
          part-of: body
          joins: [body, membrane]
      """;

  @TempDir
  Path folder;

  private Optional<Glossary> read(String text, Problems problems) throws IOException {
    Path file = folder.resolve("kazoo/glossary.yaml");
    Files.createDirectories(file.getParent());
    Files.writeString(file, text);
    return GlossaryReader.read(Curriculum.of(folder), "kazoo", problems);
  }

  /** The one problem of the glossary with this change made to it. */
  private String problemAfter(String from, String to) throws IOException {
    assertTrue(KAZOO.contains(from), "the change must hit: " + from);
    Problems problems = new Problems();
    Optional<Glossary> glossary = read(KAZOO.replace(from, to), problems);
    List<Problem> found = problems.all();
    assertEquals(1, found.size(), found.toString());
    assertTrue(glossary.isEmpty(), "a glossary with a fault is not handed out");
    return found.get(0).toString().substring("kazoo/glossary.yaml:".length());
  }

  @Test
  void aSoundGlossaryIsReadWhole() throws IOException {
    Problems problems = new Problems();
    Glossary kazoo = read(KAZOO, problems).orElseThrow(() -> new AssertionError(problems.all()));
    Concept wide = kazoo.get(ConceptId.of("wide-opening"));
    assertEquals(Level.REGION, wide.level());
    assertEquals(
        List.of(
            Term.of("wide opening", TermRole.PREFERRED),
            Term.of("mouth", TermRole.COLLOQUIAL),
            Term.of("wide openning", TermRole.MISSPELLING)),
        wide.terms());
    assertEquals(Map.of("end", "wide"), wide.qualifiers());
    assertEquals(List.of("opening"), kazoo.kindsOf(wide.id()).stream().map(Concept::term).toList());
    assertTrue(wide.drawn());
    Concept ring = kazoo.get(ConceptId.of("ring"));
    assertEquals(Level.PART, ring.level());
    assertEquals(Optional.of("body-cap"), ring.terms().get(1).sense());
    assertEquals(Set.of("tin"), ring.variants());
    assertEquals(List.of(ConceptId.of("membrane")), ring.carries());
    assertEquals(List.of("big"), kazoo.facet("end").orElseThrow().value("wide").orElseThrow().also());
    assertEquals(5, kazoo.piecesOf(ConceptId.of("body")).size());
  }

  @Test
  void onlyPartsAndRegionsAreDrawnUnlessTheFileSaysOtherwise() throws IOException {
    Glossary kazoo = read(KAZOO, new Problems()).orElseThrow();
    assertEquals(
        List.of("wide-opening", "narrow-opening", "ring", "plug"),
        kazoo.concepts().stream().filter(Concept::drawn).map(c -> c.id().value()).toList());
  }

  @Test
  void aReferenceOfAnySortThatLeadsNowhereIsFound() throws IOException {
    assertEquals("46:16: connects leads to 'bodi', which is not defined; expected the id of a part",
        problemAfter("connects: [body]", "connects: [bodi]"));
    assertTrue(problemAfter("carries: [membrane]", "carries: [membrain]").contains("carries leads to 'membrain'"));
    assertTrue(problemAfter("joins: [body, membrane]", "joins: [body, membrain]").contains("joins leads to"));
    assertTrue(problemAfter("broader: opening\n    part-of: body\n    qualifiers: {end: wide}",
        "broader: openings\n    part-of: body\n    qualifiers: {end: wide}").contains("expected the id of a kind"));
  }

  @Test
  void broaderLeadsToKindsAndNothingElseDoes() throws IOException {
    assertTrue(problemAfter("drawn: false", "broader: plug").contains("broader leads to 'plug', which is no kind"));
    assertTrue(problemAfter("carries: [membrane]", "carries: [opening]")
        .contains("carries leads to the kind 'opening'"));
    assertTrue(problemAfter("definition: Where air passes.", "definition: Where air passes.\n    part-of: body")
        .contains("a kind has no 'part-of'"));
  }

  @Test
  void aPartCannotConnectToItself() throws IOException {
    assertTrue(problemAfter("connects: [body]", "connects: [ring]").contains("connects leads back to 'ring' itself"));
  }

  @Test
  void aCircleOfKindsIsFoundOnce() throws IOException {
    String circle = problemAfter("    alternative: [hole]\n    definition: Where air passes.",
        "    broader: gap\n    definition: Where air passes.\n"
            + "  - {id: gap, level: kind, term: gap, definition: A space., broader: slot}\n"
            + "  - {id: slot, level: kind, term: slot, definition: A long space., broader: opening}");
    assertTrue(circle.contains("broader goes in a circle: opening > gap > slot > opening"), circle);
  }

  @Test
  void unknownFacetsAndValuesAreFound() throws IOException {
    assertTrue(problemAfter("{end: narrow}", "{ende: narrow}").contains("unknown facet 'ende'; expected one of end"));
    assertTrue(problemAfter("{end: narrow}", "{end: slim}")
        .contains("facet 'end' has no value 'slim'; expected one of wide, narrow"));
  }

  @Test
  void twoPartsThatTheSameWordsPickOutAreFound() throws IOException {
    assertTrue(problemAfter("{end: narrow}", "{end: wide}")
        .contains("'narrow-opening' has the same kind, qualifiers and joins as 'wide-opening'"));
  }

  @Test
  void anAlternativeThatTwoPartsShareNeedsASense() throws IOException {
    String shared = problemAfter("term: plug\n", "term: plug\n    hidden: [{term: skin, as: colloquial}]\n");
    assertTrue(shared.contains("'skin' is also an alternative term of membrane"), shared);
    String colloquial = problemAfter("[skin]", "[skin, mouth]");
    assertTrue(colloquial.contains("'mouth' is also an alternative term of membrane"), colloquial);
    String later = problemAfter("[skin]", "[skin, cap]");
    assertTrue(later.contains("'cap' is also an alternative term of ring"), later);
    String earlier = problemAfter("[hole]", "[hole, cap]");
    assertTrue(earlier.startsWith("20:25: 'cap' is also an alternative term of ring"), earlier);
  }

  @Test
  void aSenseBelongsToOneWordAndOneConcept() throws IOException {
    assertTrue(problemAfter("[skin]", "[{term: skin, sense: hide}]").contains("unknown sense 'hide'"));
    assertTrue(problemAfter("gloss: the plug}", "gloss: the plug}\n  - {id: top, word: top, gloss: the upper end}")
        .contains("sense 'top' is used by no term"));
    assertTrue(problemAfter("{term: cap, sense: end-cap}", "{term: stopper, sense: end-cap}")
        .contains("sense 'end-cap' is of the word 'cap', not of 'stopper'"));
    assertTrue(problemAfter("[skin]", "[skin, {term: cap, sense: end-cap}]")
        .contains("sense 'end-cap' already stands for membrane"));
  }

  @Test
  void theSameLabelCannotStandTwiceForOnePart() throws IOException {
    String twice = problemAfter("[skin]", "[skin, Membrane]");
    assertTrue(twice.contains("term 'Membrane' stands twice for membrane"), twice);
  }

  @Test
  void idsOfVariantsAndFacetsAreUniqueToo() throws IOException {
    assertTrue(problemAfter("{id: steel,", "{id: tin,").contains("id 'tin' stands twice among the variants"));
    assertTrue(problemAfter("- {id: narrow, term: narrow}",
        "- {id: narrow, term: narrow}\n      - {id: wide, term: broad}").contains("among the values of end"));
  }

  @Test
  void theGlossaryBearsTheNameOfItsFolder() throws IOException {
    assertTrue(problemAfter("id: kazoo", "id: comb").contains("expected the name of its folder, 'kazoo'"));
  }

  @Test
  void aReferenceToAPieceThatCouldNotBeReadIsNotCalledDangling() throws IOException {
    assertTrue(problemAfter("definition: The skin that buzzes.", "definition: 3")
        .contains("expected text, found a number"));
  }
}
