package ferrule.drill;

import ferrule.drill.item.Tolerance;
import ferrule.procedure.ProcedureBook;
import java.util.List;
import java.util.Optional;

/**
 * What drills can ask about bench work.
 *
 * @param procedures how the work is done, if anything says so
 * @param tolerances what is measured at the bench and between which limits it must lie
 */
public record Work(Optional<ProcedureBook> procedures, List<Tolerance> tolerances) {

  /** Copies the list. */
  public Work {
    tolerances = List.copyOf(tolerances);
  }

  /** Nothing: drills ask about the instrument alone. */
  public static Work none() {
    return new Work(Optional.empty(), List.of());
  }
}
