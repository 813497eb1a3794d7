package ferrule.procedure;

import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Optional;

/**
 * An instrument's procedures with what they ask for.
 *
 * @param procedures in the order of their files
 * @param crib the tools and materials
 * @param cautions with who decides before they do
 */
public record ProcedureBook(List<Procedure> procedures, ToolCrib crib, Cautions cautions) {

  /** Copies the list. */
  public ProcedureBook {
    procedures = List.copyOf(procedures);
  }

  /** The procedure with this id, if there is one. */
  public Optional<Procedure> find(String id) {
    return procedures.stream().filter(p -> p.id().value().equals(id)).findFirst();
  }

  /** The procedures that touch a part. */
  public List<Procedure> touching(ConceptId part) {
    return procedures.stream().filter(p -> p.parts().contains(part)).toList();
  }

  /** Questions about the procedures. */
  public ProcedureItems items() {
    return new ProcedureItems(procedures, crib, cautions);
  }
}
