package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.procedure.Caution;
import ferrule.procedure.Procedure;
import ferrule.procedure.ProcedureReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TaskReaderTest {

  private static final Path OWN = Path.of("curriculum");

  @TempDir Path folder;

  private List<String> problemsWith(String file, String from, String to) {
    try {
      for (String path : List.of("cautions.yaml", "trumpet/glossary.yaml", "trumpet/procedures/water-key-cork.yaml", file)) {
        Files.createDirectories(folder.resolve(path).getParent());
        Files.copy(OWN.resolve(path), folder.resolve(path), java.nio.file.StandardCopyOption.REPLACE_EXISTING);
      }
      String text = Files.readString(OWN.resolve(file));
      assertTrue(text.contains(from), "the file no longer holds: " + from);
      Files.writeString(folder.resolve(file), text.replace(from, to));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    Problems problems = new Problems();
    TaskReader.readBook(Curriculum.of(folder), problems);
    return problems.all().stream().map(Problem::toString).toList();
  }

  @Test
  void theTasksOfTheTrumpetAreWithoutFault() {
    Problems problems = new Problems();
    TaskBook book = TaskReader.readBook(Curriculum.bundled(), problems);
    assertEquals(List.of(), problems.all());
    assertTrue(book.all().size() >= 16, "tasks: " + book.all().size());
    assertTrue(book.restsWith().contains("safety data sheet"));
  }

  @Test
  void everyTaskOfHandAndToolAsksForEyeProtection() {
    for (Task task : Samples.TASKS.all()) {
      assertTrue(task.cautions().stream().anyMatch(c -> c.id().equals("eyes")), task.title());
    }
  }

  @Test
  void limitsThatNobodyPublishedAreLeftToTheInstructor() {
    // no source was found for these: none may slip in
    for (Task task : Samples.TASKS.all()) {
      for (Criterion criterion : task.criteria()) {
        if (criterion instanceof Criterion.Measured m && !m.id().startsWith("clearance")) {
          assertTrue(m.limitsBelongToInstructor(), task.id() + " " + m.id());
        }
      }
    }
  }

  @Test
  void everyProcedureHasATaskThatConfirmsItsCautions() {
    Problems problems = new Problems();
    Curriculum curriculum = Curriculum.bundled();
    Glossary glossary = GlossaryReader.read(curriculum, "trumpet", problems).orElseThrow();
    for (Procedure procedure : ProcedureReader.readBook(curriculum, glossary, problems).orElseThrow().procedures()) {
      List<Task> tasks =
          Samples.TASKS.all().stream().filter(t -> t.procedure().equals(Optional.of(procedure.id()))).toList();
      assertFalse(tasks.isEmpty(), "no task for " + procedure.id());
      for (Task task : tasks) {
        Set<String> confirmed = task.cautions().stream().map(Caution::id).collect(Collectors.toSet());
        procedure.steps().forEach(
            step -> step.cautions().forEach(c -> assertTrue(confirmed.contains(c.id()), task.id() + " " + c.id())));
        assertEquals(procedure.area(), task.area(), task.title());
      }
    }
  }

  @Test
  void workWithAcidFlameOrTheWheelAsksForASecondSignature() {
    for (Task task : Samples.TASKS.all()) {
      Set<String> cautions = task.cautions().stream().map(Caution::id).collect(Collectors.toSet());
      if (cautions.contains("acid") || cautions.contains("buffing") || cautions.contains("flux")) {
        assertTrue(task.secondSignature(), task.title());
        assertEquals(Task.Level.ADVANCED, task.level(), task.title());
      }
    }
  }

  @Test
  void noTwoLevelsOfACriterionReadAlike() {
    // a scale that says the same of every criterion tells an apprentice nothing
    Map<String, String> seen = new HashMap<>();
    for (Task task : Samples.TASKS.all()) {
      for (Criterion criterion : task.criteria()) {
        if (criterion instanceof Criterion.Rated rated) {
          assertEquals(rated.levels().size(), Set.copyOf(rated.levels()).size(), task.id() + " " + rated.id());
          String earlier = seen.put(rated.levels().get(0), task.id() + " " + rated.id());
          assertNull(earlier, rated.id() + " begins as " + earlier);
        }
      }
    }
  }

  @Test
  void everyFaultOfATaskIsToldWithItsPlace() throws IOException {
    String file = "trumpet/tasks/water-key-cork-or-pad.yaml";
    List<String> lines = Files.readAllLines(OWN.resolve(file));
    int line = 1 + lines.indexOf(lines.stream().filter(l -> l.startsWith("cautions: [eyes, flying")).findFirst().orElseThrow());
    assertEquals(
        List.of(file + ":" + line + ":18: no caution has the id 'knives'; expected one of cautions.yaml"),
        problemsWith(file, "flying-spring, blade, adhesive", "knives, blade, adhesive"));
    assertTrue(
        problemsWith(file, "  - main-slide-water-key-lever", "  - main-slide-water-key-leaver").get(0)
            .contains("the trumpet glossary has no concept 'main-slide-water-key-leaver'"));
    assertTrue(problemsWith(file, "  - id: seal", "  - id: seat").get(0).contains("criterion id 'seat' stands twice"));
    assertTrue(problemsWith(file, "      pass: 2\n", "      pass: 9\n").get(0).contains("passes from 2 or above"));
    assertTrue(problemsWith(file, "procedure: water-key-cork", "procedure: water-key").get(0)
        .contains("the trumpet has no procedure 'water-key'"));
    assertTrue(problemsWith(file, "unit: mm", "unit: furlong").get(0).startsWith(file + ":"));
    assertTrue(
        problemsWith(file, ", resolution: 0.05}", "}").get(0).contains("a resolution or an expanded uncertainty"));
    assertTrue(problemsWith(file, "level: basic", "level: easy").get(0).startsWith(file + ":"));
    assertTrue(problemsWith(file, "pass-percent: 80", "evidence: film\npass-percent: 80").get(0).startsWith(file + ":"));
    String opening = "      gauge: {name: vernier caliper or step gauge, resolution: 0.05}";
    assertTrue(
        problemsWith(file, opening, "      nominal: 3\n      limits: {lower: 1, upper: 2, source: the ticket}\n" + opening)
            .get(0).endsWith("the nominal value keeps the limits of 1 to 2 mm; given: 3"));
    assertTrue(
        problemsWith(file, opening, "      limits: {lower: 1, upper: 1.05, source: the ticket}\n" + opening)
            .get(0).contains("expected a finer gauge"));
    assertTrue(
        problemsWith(file, opening, "      limits: {lower: 1, upper: 2}\n" + opening).get(0).startsWith(file + ":"),
        "limits without a source");
  }

  @Test
  void aCautionThatStandsTwiceIsTold() {
    assertTrue(
        problemsWith("cautions.yaml", "  - id: blade", "  - id: heat").stream()
            .anyMatch(p -> p.contains("caution id 'heat' stands twice")));
  }
}
