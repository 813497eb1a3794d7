package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Set;

/** The plan of an invented drill as it is kept. */
public final class InventedPlan {

  private InventedPlan() {}

  /** A plan that asks for these parts by naming and finding them. */
  public static String json(List<ConceptId> parts) {
    return PlanDocument.write(Plan.ofParts(parts, Set.of(ItemKind.NAME, ItemKind.FIND), true));
  }
}
