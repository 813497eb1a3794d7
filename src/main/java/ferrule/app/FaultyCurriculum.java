package ferrule.app;

import ferrule.curriculum.Problem;
import ferrule.curriculum.Problems;
import java.util.stream.Collectors;

/** A curriculum with faults, which Ferrule does not run on; the message holds each with file, line and column. */
final class FaultyCurriculum extends RuntimeException {

  private static final long serialVersionUID = 1L;

  FaultyCurriculum(String message) {
    super(message);
  }

  static FaultyCurriculum of(Problems problems) {
    return new FaultyCurriculum(
        problems.all().stream()
            .map(Problem::toString)
            .collect(Collectors.joining("\n", "The curriculum has faults; the command check shows them too:\n", "")));
  }
}
