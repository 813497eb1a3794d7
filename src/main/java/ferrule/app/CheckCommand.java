package ferrule.app;

import ferrule.bench.TaskReader;
import ferrule.competency.ProgrammeReader;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import ferrule.glossary.Concept;
import ferrule.glossary.ConventionsReader;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.glossary.Level;
import ferrule.procedure.CautionReader;
import ferrule.procedure.ProcedureReader;
import ferrule.procedure.ToolCribReader;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Reads the whole curriculum and prints every fault of it at once. */
@Command(
    name = "check",
    mixinStandardHelpOptions = true,
    description = "Checks every file of the curriculum and prints each fault as file:line:column: message.",
    exitCodeListHeading = "%nExit codes:%n",
    exitCodeList = {"0:no fault", "1:at least one fault", "2:the curriculum cannot be read at all"})
public final class CheckCommand implements Callable<Integer> {

  /** The kinds of file beside the glossary; a further kind is one more line here. */
  private static final List<FileKind> FILE_KINDS = List.of(
      new FileKind("conventions", "conventions", ConventionsReader::read),
      new FileKind("tasks", "task", (curriculum, instrument, glossary, problems) ->
          CautionReader.read(curriculum, problems)
              .map(cautions -> TaskReader.read(curriculum, glossary, cautions, problems))),
      new FileKind("procedures", "procedure", (curriculum, instrument, glossary, problems) ->
          CautionReader.read(curriculum, problems)
              .flatMap(cautions -> ToolCribReader.read(curriculum, cautions, problems)
                  .map(crib -> ProcedureReader.read(curriculum, glossary, cautions, crib, problems)))));

  @Spec private CommandSpec spec;
  @Mixin private CurriculumOption curriculumOption;

  /**
   * A kind of file of an instrument's folder.
   *
   * @param name the file's name without its ending, or the name of a folder of such files
   * @param schema the name of the schema
   * @param reader checks all files of the kind against the glossary
   */
  private record FileKind(String name, String schema, Reader reader) {

    void check(Curriculum curriculum, String instrument, Optional<Glossary> glossary, Problems problems) {
      if (glossary.isPresent()) {
        reader.read(curriculum, instrument, glossary.get(), problems);
      } else {
        // a faulty glossary must not hide what is wrong with the other files in themselves
        files(curriculum, instrument).forEach(file -> curriculum.read(file, schema, problems));
      }
    }

    private List<String> files(Curriculum curriculum, String instrument) {
      String path = instrument + "/" + name;
      return curriculum.text(path + ".yaml").isPresent() ? List.of(path + ".yaml") : curriculum.files(path);
    }
  }

  /** How a feature's reader is called. */
  private interface Reader {
    Object read(Curriculum curriculum, String instrument, Glossary glossary, Problems problems);
  }

  @Override
  public Integer call() {
    try {
      return check(curriculumOption.open());
    } catch (UncheckedIOException e) {
      spec.commandLine().getErr().println(e.getMessage() + ": " + e.getCause());
      return ExitCode.USAGE;
    }
  }

  private int check(Curriculum curriculum) {
    PrintWriter out = spec.commandLine().getOut();
    List<String> instruments = curriculum.instruments();
    if (instruments.isEmpty()) {
      out.println("no instrument found: expected a folder with a glossary.yaml");
      return ExitCode.SOFTWARE;
    }
    Problems problems = new Problems();
    List<Glossary> glossaries = new ArrayList<>();
    for (String instrument : instruments) {
      Optional<Glossary> glossary = GlossaryReader.read(curriculum, instrument, problems);
      FILE_KINDS.forEach(kind -> kind.check(curriculum, instrument, glossary, problems));
      glossary.ifPresent(read -> out.println(summary(read)));
      glossary.ifPresent(glossaries::add);
    }
    checkProgramme(curriculum, glossaries, problems);
    List<Problem> found = problems.all();
    found.forEach(out::println);
    out.println(switch (found.size()) {
      case 0 -> "no problem found; edition " + curriculum.edition();
      case 1 -> "1 problem";
      default -> found.size() + " problems";
    });
    return found.isEmpty() ? ExitCode.OK : ExitCode.SOFTWARE;
  }

  private static void checkProgramme(Curriculum curriculum, List<Glossary> glossaries, Problems problems) {
    if (curriculum.text("programme.yaml").isEmpty()) {
      return; // a curriculum without one can still be drilled
    }
    if (problems.isEmpty()) {
      ProgrammeReader.read(curriculum, TaskReader.readBook(curriculum, problems), glossaries, problems);
    } else {
      // what it names may be missing only because its own file is faulty; the programme's form is checked all the same
      curriculum.read("programme.yaml", "programme", problems);
    }
  }

  private static String summary(Glossary glossary) {
    long terms = glossary.concepts().stream().mapToLong(c -> c.terms().size()).sum();
    return glossary.title() + ": " + glossary.nameable().size() + " named parts ("
        + count(glossary, Level.ASSEMBLY) + " assemblies, " + count(glossary, Level.PART) + " parts, "
        + count(glossary, Level.REGION) + " regions) of " + count(glossary, Level.KIND) + " kinds, with " + terms
        + " terms";
  }

  private static long count(Glossary glossary, Level level) {
    return glossary.concepts().stream().map(Concept::level).filter(level::equals).count();
  }
}
