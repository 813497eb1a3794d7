package ferrule.drill;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drawing.InstrumentReader;
import ferrule.drawing.Studio;
import ferrule.drill.item.Tolerance;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.procedure.ProcedureBook;
import ferrule.procedure.ProcedureReader;
import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;

/** The real trumpet, read once for the tests of this package. */
final class Trumpet {

  private static final Problems PROBLEMS = new Problems();

  static final Glossary GLOSSARY = GlossaryReader.read(Curriculum.bundled(), "trumpet", PROBLEMS).orElseThrow();
  static final Studio STUDIO =
      Studio.of(
          InstrumentReader.read(Curriculum.bundled(), "trumpet", GLOSSARY, PROBLEMS).orElseThrow(), GLOSSARY);
  static final Pictures PICTURES = new Pictures(STUDIO, GLOSSARY);
  static final ProcedureBook PROCEDURES =
      ProcedureReader.readBook(Curriculum.bundled(), GLOSSARY, PROBLEMS).orElseThrow();
  // the clearance of a piston: common practice of the trade, no published standard
  static final Tolerance CLEARANCE =
      new Tolerance(
          "clearance", "Valve alignment", "casing bore less piston diameter", "in",
          Optional.of(new BigDecimal("0.0005")), Optional.of(new BigDecimal("0.0015")), "common practice",
          new BigDecimal("0.0001"), List.of(ConceptId.of("second-piston")));
  static final ItemBank BANK = PICTURES.bank(new Work(Optional.of(PROCEDURES), List.of(CLEARANCE)));

  private Trumpet() {}

  /** The part with this preferred term. */
  static ConceptId part(String term) {
    return GLOSSARY.concepts().stream()
        .filter(c -> c.term().equals(term))
        .map(Concept::id)
        .findFirst()
        .orElseThrow(() -> new AssertionError("the glossary has no " + term));
  }
}
