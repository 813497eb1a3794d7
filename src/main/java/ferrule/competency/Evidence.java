package ferrule.competency;

import ferrule.bench.SignedWork;
import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * All that speaks for one apprentice at one moment. What a task's sign-offs amount to is worked out once for each
 * standing, however many rules ask for it. For one thread.
 */
public final class Evidence {

  /**
   * What the sign-offs of a task amount to.
   *
   * @param works those that count, in the order of first signing
   * @param instruments on how many different instruments
   * @param instructors by how many different instructors
   */
  record Tally(List<SignedWork> works, int instruments, int instructors) {

    private static Tally of(List<SignedWork> works) {
      return new Tally(
          works,
          (int) works.stream().map(SignedWork::tag).distinct().count(),
          (int) works.stream().map(SignedWork::instructor).distinct().count());
    }

    int times() {
      return works.size();
    }
  }

  private record Asked(TaskId task, Standing standing) {}

  private final Map<TaskId, List<SignedWork>> works;
  private final Map<Asked, Tally> tallies = new HashMap<>();
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

  /** What the sign-offs of a task at this standing or a better one amount to. */
  Tally tally(TaskId task, Standing standing) {
    return tallies.computeIfAbsent(
        new Asked(task, standing),
        asked -> Tally.of(
            works.getOrDefault(task, List.of()).stream().filter(w -> w.standing().isAtLeast(standing)).toList()));
  }

  /** How the parts of an assembly were named. */
  PartsNamed names(ConceptId assembly) {
    return names.apply(assembly);
  }
}
