package ferrule.drill;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Patches of the real glossary, put on by git and read back. */
class GlossaryPatchTest {

  private static final String PATH = "curriculum/trumpet/glossary.yaml";
  private static final String TEXT = Curriculum.bundled().text("trumpet/glossary.yaml").orElseThrow();

  @TempDir private Path folder;

  private static RuledAnswer ruling(ConceptId part, String phrase, Decision decision) {
    return new RuledAnswer(
        UUID.randomUUID(), "trumpet", "e1", part, phrase, phrase, decision, "", UUID.randomUUID(), Instant.EPOCH,
        Optional.empty());
  }

  private Glossary patched(List<RuledAnswer> rulings) throws IOException, InterruptedException {
    Path file = folder.resolve(PATH);
    Files.createDirectories(file.getParent());
    Files.writeString(file, TEXT);
    Files.writeString(folder.resolve("glossary.patch"), GlossaryPatch.of(PATH, TEXT, rulings));
    Process git =
        new ProcessBuilder("git", "apply", "--verbose", "glossary.patch")
            .directory(folder.toFile())
            .redirectErrorStream(true)
            .start();
    String said = new String(git.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
    assertEquals(0, git.waitFor(), said);
    Problems problems = new Problems();
    Optional<Glossary> glossary =
        GlossaryReader.read(Curriculum.of(folder.resolve("curriculum")), "trumpet", problems);
    assertEquals(List.of(), problems.all());
    return glossary.orElseThrow();
  }

  @Test
  void everyPartTakesATermOfEachSortAndNothingElseChanges() throws IOException, InterruptedException {
    List<RuledAnswer> rulings = new ArrayList<>();
    int n = 0;
    for (Concept c : Trumpet.GLOSSARY.nameable()) {
      n++;
      rulings.add(ruling(c.id(), "novel term of " + letters(n), Decision.TERM));
      rulings.add(ruling(c.id(), "novel nickname of " + letters(n), Decision.COLLOQUIAL));
      rulings.add(ruling(c.id(), "nuvel of " + letters(n), Decision.MISSPELLING));
    }
    Glossary after = patched(rulings);
    for (Concept before : Trumpet.GLOSSARY.concepts()) {
      List<Term> terms = after.get(before.id()).terms();
      rulings.stream()
          .filter(r -> r.part().equals(before.id()))
          .forEach(r -> assertTrue(terms.contains(Term.of(r.phrase(), RuledNames.role(r.decision()))), r + " in " + terms));
      assertTrue(terms.containsAll(before.terms()), before.id() + " keeps its terms");
      long added = rulings.stream().filter(r -> r.part().equals(before.id())).count();
      assertEquals(before.terms().size() + added, terms.size());
      assertEquals(before.definition(), after.get(before.id()).definition());
    }
  }

  private static String letters(int n) {
    return n < 26 ? String.valueOf((char) ('a' + n)) : letters(n / 26) + letters(n % 26);
  }

  @Test
  void aNumberAloneStaysAWord() throws IOException, InterruptedException {
    ConceptId crook = Trumpet.part("third slide crook");
    Glossary after = patched(List.of(ruling(crook, "77", Decision.COLLOQUIAL), ruling(crook, "no", Decision.TERM)));
    assertTrue(after.get(crook).termsIn(TermRole.COLLOQUIAL).contains("77"));
    assertTrue(after.get(crook).termsIn(TermRole.ALTERNATIVE).contains("no"));
  }

  @Test
  void withoutRulingsThereIsNothingToPatch() {
    assertEquals("", GlossaryPatch.of(PATH, TEXT, List.of()));
    assertEquals("", GlossaryPatch.of(PATH, TEXT, List.of(ruling(ConceptId.of("no-such-part"), "x", Decision.TERM))));
  }
}
