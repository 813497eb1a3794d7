package ferrule.naming;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.glossary.TermRole;
import ferrule.naming.Ruling.Decision;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RulingsTest {

  private static final ConceptId CROOK = ConceptId.of("third-slide-crook");
  private static final ConceptId LEADPIPE = ConceptId.of("leadpipe");
  private static final String PATH = "curriculum/trumpet/glossary.yaml";

  private final Rulings none = Rulings.over(Trumpet.GLOSSARY);

  @Test
  void anAcceptedTermIsReadAtOnceInAnyOrderAndWithASlip() {
    Rulings ruled = none.with(Ruling.on("Third slide gooseneck", CROOK, new Decision.AcceptAsTerm()));
    assertEquals("unknown", none.judge(CROOK, "third slide gooseneck", Set.of()).code());
    assertEquals("right-synonym", ruled.judge(CROOK, "THIRD SLIDE GOOSENECK", Set.of()).code());
    assertEquals("right-synonym", ruled.judge(CROOK, "gooseneck of the 3rd slide", Set.of()).code());
    assertEquals("right-synonym", ruled.judge(CROOK, "third slide goosneck", Set.of()).code());
    assertEquals("right", ruled.judge(CROOK, "third slide crook", Set.of()).code());
  }

  @Test
  void anEverydayNameAndAMisspellingAreAcceptedAsThat() {
    Rulings ruled =
        none.with(Ruling.on("blow pipe", LEADPIPE, new Decision.AcceptAsColloquial()))
            .with(Ruling.on("leedpyppe", LEADPIPE, new Decision.AcceptAsMisspelling()));
    assertEquals("right-colloquial", ruled.judge(LEADPIPE, "blow pipe", Set.of()).code());
    assertEquals("right", ruled.judge(LEADPIPE, "leedpyppe", Set.of()).code());
  }

  @Test
  void aRejectionStandsAndGivesItsReason() {
    Rulings ruled = none.with(Ruling.on("spit pipe", LEADPIPE, new Decision.Reject("Nobody in the shop says so.")));
    Verdict verdict = ruled.judge(LEADPIPE, "Spit pipe?", Set.of());
    assertInstanceOf(Verdict.Unknown.class, verdict);
    assertTrue(verdict.sentence().endsWith("Nobody in the shop says so."), verdict.sentence());
  }

  @Test
  void aRulingForOnceChangesThatVerdictAndNoLaterOne() {
    Ruling once = Ruling.on("blow pipe", LEADPIPE, new Decision.AcceptOnce());
    Verdict before = none.judge(LEADPIPE, "blow pipe", Set.of());
    assertEquals("right-synonym", Rulings.under(once.decision(), before).code());
    assertEquals(before, none.with(once).judge(LEADPIPE, "blow pipe", Set.of()));
  }

  @Test
  void aNameOfAnotherPartIsRefusedAndTheConflictShown() {
    Ruling ruling = Ruling.on("first slide bow", CROOK, new Decision.AcceptAsTerm());
    Rulings.Conflict conflict = none.conflictOf(ruling).orElseThrow();
    assertEquals(List.of(Trumpet.part("first-slide-crook")), conflict.others());
    assertTrue(conflict.sentence().contains("first slide crook"), conflict.sentence());
    assertThrows(IllegalArgumentException.class, () -> none.with(ruling));
  }

  @Test
  void aNameThatFitsSeveralPartsCannotBecomeTheNameOfOne() {
    assertTrue(none.conflictOf(Ruling.on("crook", CROOK, new Decision.AcceptAsTerm())).isPresent());
    assertTrue(none.conflictOf(Ruling.on("crook", CROOK, new Decision.Reject("say which"))).isEmpty());
  }

  @Test
  void anAcceptedNameOfOnePartIsRefusedForTheNext() {
    Rulings ruled = none.with(Ruling.on("gooseneck", CROOK, new Decision.AcceptAsTerm()));
    Ruling second = Ruling.on("gooseneck", LEADPIPE, new Decision.AcceptAsColloquial());
    assertEquals(List.of(Trumpet.part("third-slide-crook")), ruled.conflictOf(second).orElseThrow().others());
  }

  @Test
  void aRulingUndoneLeavesNothingBehind() {
    Ruling ruling = Ruling.on("third slide gooseneck", CROOK, new Decision.AcceptAsTerm());
    Rulings undone = none.with(ruling).without(ruling);
    assertEquals("unknown", undone.judge(CROOK, "third slide gooseneck", Set.of()).code());
    assertEquals(List.of(), undone.all());
  }

  @Test
  void aLaterRulingOnTheSamePhraseHolds() {
    Ruling first = Ruling.on("blow pipe", LEADPIPE, new Decision.AcceptAsTerm());
    Ruling later = Ruling.on("blow pipe", LEADPIPE, new Decision.AcceptAsColloquial());
    assertEquals(List.of(later), Rulings.of(Trumpet.GLOSSARY, List.of(first, later)).all());
    assertEquals(List.of(later), none.with(first).with(later).all());
  }

  @Test
  void thePatchMakesTheRulingsTermsOfTheFileAndChangesNothingElse(@TempDir Path folder) throws IOException {
    String text = Curriculum.bundled().text("trumpet/glossary.yaml").orElseThrow();
    List<Ruling> made =
        List.of(
            Ruling.on("third slide gooseneck", CROOK, new Decision.AcceptAsTerm()),
            Ruling.on("3rd bendy bit", CROOK, new Decision.AcceptAsColloquial()),
            Ruling.on("third slide goosneck", CROOK, new Decision.AcceptAsTerm()),
            Ruling.on("blow pipe", LEADPIPE, new Decision.AcceptAsColloquial()),
            Ruling.on("air pipe", LEADPIPE, new Decision.AcceptAsTerm()),
            Ruling.on("spit pipe", LEADPIPE, new Decision.Reject("no")));
    GlossaryPatch patch = GlossaryPatch.of(text, made);
    Files.createDirectories(folder.resolve("trumpet"));
    Files.writeString(folder.resolve("trumpet/glossary.yaml"), patch.patched());
    Problems problems = new Problems();
    Glossary read = GlossaryReader.read(Curriculum.of(folder), "trumpet", problems).orElseThrow();
    assertEquals(List.of(), problems.all());
    assertEquals(
        List.of("third slide gooseneck", "third slide goosneck"), read.get(CROOK).termsIn(TermRole.ALTERNATIVE));
    assertEquals(List.of("3rd bendy bit"), read.get(CROOK).termsIn(TermRole.COLLOQUIAL));
    assertTrue(read.get(LEADPIPE).termsIn(TermRole.ALTERNATIVE).contains("air pipe"));
    assertTrue(read.get(LEADPIPE).termsIn(TermRole.COLLOQUIAL).contains("blow pipe"));
    assertEquals(Trumpet.GLOSSARY.concepts().size(), read.concepts().size());
    assertEquals(patch.patched(), applied(patch.diff(PATH), text));
  }

  @Test
  void thereIsNothingToPatchInARejection() {
    String text = Curriculum.bundled().text("trumpet/glossary.yaml").orElseThrow();
    GlossaryPatch patch = GlossaryPatch.of(text, List.of(Ruling.on("spit pipe", LEADPIPE, new Decision.Reject("no"))));
    assertTrue(patch.isEmpty());
    assertEquals("", patch.diff(PATH));
    assertFalse(patch.patched().isEmpty());
  }

  /** Applies a unified diff strictly: every context and removed line must stand where the hunk says. */
  private static String applied(String diff, String text) {
    List<String> old = List.of(text.split("\n"));
    List<String> result = new ArrayList<>();
    int at = 0;
    for (String line : diff.split("\n")) {
      if (line.startsWith("@@")) {
        int start = Integer.parseInt(line.substring(4, line.indexOf(','))) - 1;
        result.addAll(old.subList(at, start));
        at = start;
        String plus = line.substring(line.indexOf('+') + 1);
        assertEquals(result.size() + 1, Integer.parseInt(plus.substring(0, plus.indexOf(','))));
      } else if (line.startsWith("+") && !line.startsWith("+++")) {
        result.add(line.substring(1));
      } else if (!line.startsWith("---") && !line.startsWith("+++")) {
        assertEquals(old.get(at++), line.substring(1));
        if (line.startsWith(" ")) {
          result.add(line.substring(1));
        }
      }
    }
    result.addAll(old.subList(at, old.size()));
    return String.join("\n", result) + "\n";
  }
}
