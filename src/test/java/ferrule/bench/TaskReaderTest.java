package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
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
    assertEquals(
        List.of("slide-fit-and-alignment", "valve-alignment-with-felts", "water-key-cork-or-pad"),
        book.all().stream().map(t -> t.id().value()).toList());
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
        if (criterion instanceof Criterion.Measured m && !m.id().equals("clearance")) {
          assertTrue(m.limitsBelongToInstructor(), task.id() + " " + m.id());
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
  }

  @Test
  void aCautionThatStandsTwiceIsTold() {
    assertTrue(
        problemsWith("cautions.yaml", "  - id: blade", "  - id: heat").stream()
            .anyMatch(p -> p.contains("caution id 'heat' stands twice")));
  }
}
