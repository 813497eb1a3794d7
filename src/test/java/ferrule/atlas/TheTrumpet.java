package ferrule.atlas;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.drawing.InstrumentReader;
import ferrule.drawing.Studio;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;

/** The bundled trumpet, read once for the tests of the atlas. */
final class TheTrumpet {

  static final Curriculum CURRICULUM = Curriculum.bundled();
  static final Glossary GLOSSARY;
  static final Studio STUDIO;

  static {
    Problems problems = new Problems();
    GLOSSARY =
        GlossaryReader.read(CURRICULUM, "trumpet", problems)
            .orElseThrow(() -> new IllegalStateException(problems.all().toString()));
    STUDIO =
        InstrumentReader.read(CURRICULUM, "trumpet", GLOSSARY, problems)
            .map(instrument -> Studio.of(instrument, GLOSSARY))
            .orElseThrow(() -> new IllegalStateException(problems.all().toString()));
  }

  private TheTrumpet() {}

  static Concept concept(String id) {
    return GLOSSARY.get(ConceptId.of(id));
  }

  static Entry entry(String id) {
    return Entry.of(GLOSSARY, concept(id));
  }
}
