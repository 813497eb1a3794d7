package ferrule.naming;

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
import ferrule.naming.Ruling.Decision;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Patches of the real glossary, put on by git and read back. */
class GlossaryPatchTest {

  private static final String PATH = "curriculum/trumpet/glossary.yaml";
  private static final String TEXT = Curriculum.bundled().text("trumpet/glossary.yaml").orElseThrow();

  private static final Glossary TRUMPET =
      GlossaryReader.read(Curriculum.bundled(), "trumpet", new Problems()).orElseThrow();

  @TempDir private Path folder;

  private Glossary patched(List<Ruling> rulings) throws IOException, InterruptedException {
    Path file = folder.resolve(PATH);
    Files.createDirectories(file.getParent());
    Files.writeString(file, TEXT);
    Files.writeString(folder.resolve("glossary.patch"), GlossaryPatch.of(TEXT, rulings).diff(PATH));
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
    List<Ruling> rulings = new ArrayList<>();
    int n = 0;
    for (Concept c : TRUMPET.nameable()) {
      n++;
      rulings.add(Ruling.on("novel term of " + letters(n), c.id(), new Decision.AcceptAsTerm()));
      rulings.add(Ruling.on("novel nickname of " + letters(n), c.id(), new Decision.AcceptAsColloquial()));
      rulings.add(Ruling.on("nuvel of " + letters(n), c.id(), new Decision.AcceptAsMisspelling()));
    }
    Glossary after = patched(rulings);
    for (Concept before : TRUMPET.concepts()) {
      List<Term> terms = after.get(before.id()).terms();
      rulings.stream()
          .filter(r -> r.part().equals(before.id()))
          .map(r -> Term.of(r.phrase(), Rulings.roleOf(r).orElseThrow()))
          .forEach(term -> assertTrue(terms.contains(term), term + " in " + terms));
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
    ConceptId crook = ConceptId.of("third-slide-crook");
    Glossary after =
        patched(
            List.of(
                Ruling.on("77", crook, new Decision.AcceptAsColloquial()),
                Ruling.on("no", crook, new Decision.AcceptAsTerm())));
    assertTrue(after.get(crook).termsIn(TermRole.COLLOQUIAL).contains("77"));
    assertTrue(after.get(crook).termsIn(TermRole.ALTERNATIVE).contains("no"));
  }
}
