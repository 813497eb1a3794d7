package ferrule.app;

import ferrule.bench.Criterion;
import ferrule.bench.Task;
import ferrule.bench.TaskBook;
import ferrule.bench.TaskReader;
import ferrule.competency.Programme;
import ferrule.competency.ProgrammeReader;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drawing.Instrument;
import ferrule.drawing.InstrumentReader;
import ferrule.drawing.Studio;
import ferrule.drill.Work;
import ferrule.drill.item.Tolerance;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.naming.TermReader;
import ferrule.procedure.ProcedureBook;
import ferrule.procedure.ProcedureReader;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * All that a running Ferrule reads from its curriculum.
 *
 * @param curriculum where all of it was read
 * @param edition of the curriculum
 * @param glossary the names of the parts
 * @param reader of typed names
 * @param studio draws the instrument
 * @param tasks of the bench
 * @param programme what an apprentice must be able to do
 * @param procedures how the work is done
 */
record Books(
    Curriculum curriculum,
    String edition,
    Glossary glossary,
    TermReader reader,
    Studio studio,
    TaskBook tasks,
    Programme programme,
    ProcedureBook procedures) {

  /** What drills can ask about the work at the bench. */
  Work work() {
    return new Work(
        Optional.of(procedures), tasks.all().stream().flatMap(Books::tolerancesOf).toList());
  }

  private static Stream<Tolerance> tolerancesOf(Task task) {
    return task.criteria().stream()
        .filter(Criterion.Measured.class::isInstance)
        .map(Criterion.Measured.class::cast)
        .flatMap(criterion -> tolerance(task, criterion).stream());
  }

  // the instructor's own limits stand with each grade and are nothing to be known beforehand
  private static Optional<Tolerance> tolerance(Task task, Criterion.Measured m) {
    return m.limits().map(
        limits ->
            new Tolerance(
                task.id() + "/" + m.id(), task.title(), m.quantity(), m.unit().symbol(), limits.lower(), limits.upper(),
                limits.source(), m.gauge().expandedUncertainty(), task.parts()));
  }

  /**
   * Reads the curriculum, which must be without fault.
   *
   * @throws FaultyCurriculum with every fault of what was read
   */
  static Books read(Curriculum curriculum) {
    Problems problems = new Problems();
    List<String> instruments = curriculum.instruments();
    if (instruments.isEmpty()) {
      throw new FaultyCurriculum("no instrument found: expected a folder with a glossary.yaml");
    }
    String name = instruments.get(0);
    Glossary glossary =
        GlossaryReader.read(curriculum, name, problems).orElseThrow(() -> FaultyCurriculum.of(problems));
    Instrument instrument =
        InstrumentReader.read(curriculum, name, glossary, problems).orElseThrow(() -> FaultyCurriculum.of(problems));
    TaskBook tasks = TaskReader.readBook(curriculum, problems);
    Optional<Programme> programme = ProgrammeReader.read(curriculum, tasks, List.of(glossary), problems);
    Optional<ProcedureBook> procedures = ProcedureReader.readBook(curriculum, glossary, problems);
    if (!problems.isEmpty()) {
      throw FaultyCurriculum.of(problems);
    }
    return new Books(
        curriculum, curriculum.edition(), glossary, TermReader.of(glossary), Studio.of(instrument, glossary), tasks,
        programme.orElseThrow(), procedures.orElseThrow());
  }
}
