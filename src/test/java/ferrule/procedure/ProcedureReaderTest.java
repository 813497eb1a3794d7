package ferrule.procedure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the reader of procedures finds wrong, and where. */
class ProcedureReaderTest {

  private static final String GLOSSARY =
      """
      id: kazoo
      title: Kazoo
      language: en
      variants: []
      facets: []
      senses: []
      concepts:
        - {id: body, term: body, definition: The tube that the player hums into.}
        - {id: membrane, term: membrane, definition: The skin that buzzes., part-of: body}
      """;

  private static final String CAUTIONS =
      """
      rests-with: The data sheet, the local code and the instructor decide.
      cautions:
        - {id: blade, title: Blades, hazard: They cut., measure: Cut away from the hand.}
      """;

  private static final String CRIB =
      """
      tools:
        - {id: knife, name: knife, kind: cutting, use: cuts the skin round, cautions: [blade]}
        - {id: cloth, name: cloth, kind: swabbing, use: dries}
      materials:
        - {id: skin, name: new skin, use: becomes the membrane}
      """;

  @TempDir private Path folder;
  private final List<String> steps = new ArrayList<>();

  @BeforeEach
  void sixSoundSteps() {
    steps.add("{id: open, name: Open it, do: Take the cap off., parts: [body]}");
    steps.add("{id: clean, name: Clean it, do: Wipe it dry., tools: [cloth], after: [" + after("open") + "]}");
    steps.add("{id: cut, name: Cut the skin, do: Cut it round., tools: [knife], materials: [skin], cautions: [blade]}");
    steps.add("{id: lay, name: Lay the skin in, do: Lay it flat., parts: [membrane], after: ["
        + after("clean") + ", " + after("cut") + "]}");
    steps.add("{id: close, name: Close it, do: Put the cap on., after: [" + after("lay") + "]}");
    steps.add("{id: hum, name: Hum, do: Hum a note., after: [" + after("close") + "]}");
  }

  private static String after(String step) {
    return "{step: " + step + ", slip: Done too early, why: it fails}";
  }

  @Test
  void aSoundProcedureIsRead() throws IOException {
    Problems problems = new Problems();
    List<Procedure> read = read(problems);
    assertEquals(List.of(), problems.all());
    Procedure procedure = read.get(0);
    assertEquals(6, procedure.steps().size());
    assertEquals(List.of("open", "cut"), procedure.stepIds().stream()
        .filter(s -> procedure.before(s).isEmpty()).map(StepId::value).toList());
    assertEquals("Done too early: it fails", procedure.before(StepId.of("hum")).get(0).objection());
    // open < clean and cut, freely, then lay < close < hum
    assertEquals(3, LinearExtensions.of(procedure.order()).count().intValueExact());
  }

  @Test
  void aCircleIsNamedStepByStep() throws IOException {
    steps.set(1, steps.get(1).replace("]}", ", " + after("close") + "]}"));
    assertProblems(
        "kazoo/procedures/skin.yaml:9:133: the steps go in a circle: clean > lay > close > clean; expected one of these"
            + " precedences to go");
  }

  @Test
  void aPrecedenceThatFollowsFromOthersIsReportedWithThem() throws IOException {
    steps.set(5, steps.get(5).replace("]}", ", " + after("lay") + "]}"));
    assertProblems(
        "that 'lay' comes before 'hum' follows from lay > close > hum anyway; expected only what does not follow");
  }

  @Test
  void unknownIdsOfEverySortAreReportedAtOnce() throws IOException {
    steps.set(
        0, "{id: open, name: Open it, do: Open., parts: [bodi], tools: [hook], materials: [glue], cautions: [fire]}");
    steps.set(4, "{id: close, name: Close it, do: Put the cap on., after: [" + after("lai") + "]}");
    assertProblems(
        "unknown id 'bodi'; expected a concept of the kazoo glossary",
        "unknown id 'hook'; expected one of the tools of tool-crib.yaml",
        "unknown id 'glue'; expected one of the materials of tool-crib.yaml",
        "unknown id 'fire'; expected one of cautions.yaml",
        "unknown step 'lai'; expected the id of a step of this procedure");
  }

  @Test
  void theCautionOfAToolMustStandWhereItIsUsed() throws IOException {
    steps.set(2, steps.get(2).replace(", cautions: [blade]", ""));
    assertProblems("step 'cut' uses knife without the caution 'blade'; expected it among its cautions");
  }

  @Test
  void stepsListedInAnOrderThatDoesNotWorkAreReported() throws IOException {
    steps.add(1, steps.remove(4));
    assertProblems("step 'lay' is listed after 'close'; expected the steps in an order that works");
  }

  @Test
  void aStepThatIsTiedToNothingIsReported() throws IOException {
    steps.add("{id: polish, name: Polish it, do: Rub it.}");
    assertProblems(
        "step 'polish' is tied to no other step; expected an 'after' of its own or in another step");
  }

  @Test
  void aStepThatStandsTwiceIsReported() throws IOException {
    steps.add("{id: hum, name: Hum again, do: Hum., after: [" + after("close") + "]}");
    assertProblems(
        "step id 'hum' stands twice; expected an id of its own",
        "step 'close' stands twice here; expected it once");
  }

  @Test
  void aReasonIsRequired() throws IOException {
    steps.set(5, steps.get(5).replace(", why: it fails", ""));
    Problems problems = new Problems();
    assertEquals(List.of(), read(problems));
    assertEquals(1, problems.all().size(), problems.all()::toString);
  }

  private void assertProblems(String... expected) throws IOException {
    Problems problems = new Problems();
    assertEquals(List.of(), read(problems));
    List<String> found = problems.all().stream().map(Problem::toString).toList();
    assertEquals(expected.length, found.size(), found::toString);
    for (int i = 0; i < expected.length; i++) {
      String text = expected[i];
      assertEquals(1, found.stream().filter(f -> f.endsWith(text)).count(), () -> text + "\nfound " + found);
    }
    for (String problem : found) {
      assertTrue(problem.matches("kazoo/procedures/skin\\.yaml:\\d+:\\d+: .*"), problem);
    }
  }

  private List<Procedure> read(Problems problems) throws IOException {
    write("kazoo/glossary.yaml", GLOSSARY);
    write("cautions.yaml", CAUTIONS);
    write("tool-crib.yaml", CRIB);
    StringBuilder file =
        new StringBuilder(
            """
            id: skin
            title: New skin
            area: fitting-and-sealing
            purpose: Make it buzz.
            source: >-
              invented for tests
            steps:
            """);
    steps.forEach(step -> file.append("  - ").append(step).append('\n'));
    write("kazoo/procedures/skin.yaml", file.toString());
    Curriculum curriculum = Curriculum.of(folder);
    Glossary glossary = GlossaryReader.read(curriculum, "kazoo", problems).orElseThrow();
    Cautions cautions = CautionReader.read(curriculum, problems).orElseThrow();
    ToolCrib crib = ToolCribReader.read(curriculum, cautions, problems).orElseThrow();
    return ProcedureReader.read(curriculum, glossary, cautions, crib, problems);
  }

  private void write(String path, String text) throws IOException {
    Path file = folder.resolve(path);
    Files.createDirectories(file.getParent());
    Files.writeString(file, text);
  }
}
