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
    assertEquals(16, programme.orElseThrow().competencies().size());
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
    assertTrue(problemsWith("{task: slide-fit-and-alignment, times: 2", "{task: slide-fit, times: 2").get(0)
        .contains("no task has the id 'slide-fit'"));
    assertTrue(problemsWith("assembly: main-slide-water-key", "assembly: crook").get(0)
        .contains("no glossary has an assembly 'crook'"));
    assertTrue(problemsWith("n: 1", "n: 3").get(0).contains("at least 3 of 2 cannot be reached"));
    assertTrue(problemsWith("- id: slide-fitting", "- id: water-keys").get(0).contains("stands twice"));
    assertEquals(1, problemsWith("          any:", "          one-of:").size());
    assertTrue(problemsWith("- holds: valve-alignment", "- holds: valve-alignmnt").get(0)
        .contains("no competency has the id 'valve-alignmnt'; expected one of this programme"));
    assertEquals(1, problemsWith("within: 6 months", "within: half a year").size());
    assertTrue(problemsWith("known: {assembly: trumpet, sure-percent: 70}", "known: {assembly: first-piston-assembly, sure-percent: 95}").get(0)
        .matches(".*even all \\d+ parts named right make only \\d+ % sure; expected at most that"));
  }

  @Test
  void competenciesThatComeFirstInACircleAreRefused() {
    String problem = problemsWith(
        "          signed: {task: valve-alignment-with-felts, times: 2, instruments: 2, instructors: 2}",
        "          holds: piston-fitting").get(0);
    assertTrue(problem.contains("competencies come first in a circle: valve-alignment, then piston-fitting, then valve-alignment"),
        problem);
    assertTrue(problem.startsWith("programme.yaml:"), problem);
  }

  @Test
  void aKeptEditionIsReadAgainWhateverBecameOfItsTasks() {
    Programme programme =
        ProgrammeReader.read(Curriculum.bundled(), TASKS, List.of(TRUMPET), new Problems()).orElseThrow();
    Programme kept = ProgrammeReader.kept(programme.text(), programme.titles());
    assertEquals(programme, kept);
    assertEquals(12, kept.edition().length());
  }
}
