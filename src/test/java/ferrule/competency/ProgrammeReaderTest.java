package ferrule.competency;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.bench.TaskBook;
import ferrule.bench.TaskReader;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ProgrammeReaderTest {

  private static final TaskBook TASKS = TaskReader.readBook(Curriculum.bundled(), new Problems());
  private static final Glossary TRUMPET =
      GlossaryReader.read(Curriculum.bundled(), "trumpet", new Problems()).orElseThrow();
  private static final Path OWN = Path.of("curriculum/programme.yaml");

  @TempDir Path folder;

  private List<String> problemsWith(String from, String to) {
    try {
      String text = Files.readString(OWN);
      assertTrue(text.contains(from), "the file no longer holds: " + from);
      Files.writeString(folder.resolve("programme.yaml"), text.replace(from, to));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    Problems problems = new Problems();
    ProgrammeReader.read(Curriculum.of(folder), TASKS, List.of(TRUMPET), problems);
    return problems.all().stream().map(Problem::toString).toList();
  }

  @Test
  void theProgrammeIsWithoutFault() {
    Problems problems = new Problems();
    Optional<Programme> programme =
        ProgrammeReader.read(Curriculum.bundled(), TASKS, List.of(TRUMPET), problems);
    assertEquals(List.of(), problems.all());
    assertEquals(6, programme.orElseThrow().competencies().size());
  }

  @Test
  void everyTaskOfTheCurriculumLeadsToACompetency() {
    Programme programme =
        ProgrammeReader.read(Curriculum.bundled(), TASKS, List.of(TRUMPET), new Problems()).orElseThrow();
    String rules = programme.competencies().toString();
    TASKS.all().forEach(t -> assertTrue(rules.contains("task=" + t.id()), t.title()));
  }

  @Test
  void everyFaultIsToldWithItsPlace() {
    assertTrue(problemsWith("task: slide-fit-and-alignment", "task: slide-fit").get(0)
        .contains("no task has the id 'slide-fit'"));
    assertTrue(problemsWith("assembly: main-slide-water-key", "assembly: crook").get(0)
        .contains("no glossary has an assembly 'crook'"));
    assertTrue(problemsWith("n: 1", "n: 3").get(0).contains("at least 3 of 2 cannot be reached"));
    assertTrue(problemsWith("- id: slide-fitting", "- id: water-keys").get(0).contains("stands twice"));
    assertEquals(1, problemsWith("          any:", "          one-of:").size());
  }
}
