package ferrule.app;

import ferrule.bench.TaskReader;
import ferrule.competency.ProgrammeReader;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Position;
import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import ferrule.drawing.InstrumentReader;
import ferrule.glossary.Concept;
import ferrule.glossary.ConventionsReader;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.glossary.Level;
import ferrule.procedure.CautionReader;
import ferrule.procedure.ProcedureReader;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
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

  /** The schema of each file by its place; {@code *} stands for an instrument or for a file of the author's naming. */
  private static final Map<String, String> SCHEMAS = Map.of(
      "cautions.yaml", "cautions",
      "tool-crib.yaml", "tool-crib",
      "programme.yaml", "programme",
      "*/glossary.yaml", "glossary",
      "*/conventions.yaml", "conventions",
      "*/instrument.yaml", "instrument",
      "*/views.yaml", "views",
      "*/tasks/*.yaml", "task",
      "*/procedures/*.yaml", "procedure");

  /** What an instrument's files say is held against its glossary by these; a further kind is one more line here. */
  private static final List<Reader> READERS = List.of(
      ConventionsReader::read,
      InstrumentReader::read,
      (curriculum, instrument, glossary, problems) ->
          CautionReader.read(curriculum, problems)
              .map(cautions -> TaskReader.read(curriculum, glossary, cautions, problems)),
      (curriculum, instrument, glossary, problems) -> ProcedureReader.readBook(curriculum, glossary, problems));

  @Spec private CommandSpec spec;
  @Mixin private CurriculumOption curriculumOption;

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
    // the form of every file first, so that a fault in one hides none in another that is held against it
    curriculum.files().forEach(file -> checkForm(curriculum, file, problems));
    List<Glossary> glossaries = new ArrayList<>();
    for (String instrument : instruments) {
      Optional<Glossary> glossary = GlossaryReader.read(curriculum, instrument, problems);
      glossary.ifPresent(read -> READERS.forEach(reader -> reader.read(curriculum, instrument, read, problems)));
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

  private static void checkForm(Curriculum curriculum, String file, Problems problems) {
    Optional<String> schema = SCHEMAS.entrySet().stream()
        .filter(kind -> file.matches(kind.getKey().replace(".", "\\.").replace("*", "[^/]+")))
        .map(Map.Entry::getValue).findFirst();
    schema.ifPresentOrElse(
        name -> curriculum.read(file, name, problems),
        () -> problems.add(new Position(file, 1, 1), "no kind of file has this name and place; expected one of "
            + String.join(", ", new TreeSet<>(SCHEMAS.keySet()))));
  }

  private static void checkProgramme(Curriculum curriculum, List<Glossary> glossaries, Problems problems) {
    // Without a programme a curriculum can still be drilled; and what a programme names may be missing only because the
    // file that gives it is faulty.
    if (curriculum.text("programme.yaml").isPresent() && problems.isEmpty()) {
      ProgrammeReader.read(curriculum, TaskReader.readBook(curriculum, problems), glossaries, problems);
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
