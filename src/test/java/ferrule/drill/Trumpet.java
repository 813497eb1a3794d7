package ferrule.drill;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drawing.InstrumentReader;
import ferrule.drawing.Studio;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;

/** The real trumpet, read once for the tests of this package. */
final class Trumpet {

  private static final Problems PROBLEMS = new Problems();

  static final Glossary GLOSSARY = GlossaryReader.read(Curriculum.bundled(), "trumpet", PROBLEMS).orElseThrow();
  static final Studio STUDIO =
      Studio.of(
          InstrumentReader.read(Curriculum.bundled(), "trumpet", GLOSSARY, PROBLEMS).orElseThrow(), GLOSSARY);
  static final Pictures PICTURES = new Pictures(STUDIO, GLOSSARY);

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
