package ferrule.competency;

import ferrule.bench.SignedWork;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;

/** All that speaks for one apprentice at one moment. Immutable. */
public final class Evidence {

  private final Map<TaskId, List<SignedWork>> works;
  private final Function<ConceptId, PartsNamed> names;

  /**
   * The evidence of these works and names.
   *
   * @param works that count, in the order of first signing
   * @param names how the parts of an assembly were named
   */
  public Evidence(List<SignedWork> works, Function<ConceptId, PartsNamed> names) {
    this.works = works.stream().collect(Collectors.groupingBy(SignedWork::task));
    this.names = names;
  }

  /** The works of a task that count, in the order of first signing. */
  List<SignedWork> of(TaskId task) {
    return works.getOrDefault(task, List.of());
  }

  /** How the parts of an assembly were named. */
  PartsNamed names(ConceptId assembly) {
    return names.apply(assembly);
  }
}
