package ferrule.drawing;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;

/** The bundled trumpet, read once for all tests. */
final class Trumpet {

  static final Glossary GLOSSARY;
  static final Instrument INSTRUMENT;
  static final Studio STUDIO;

  static {
    Problems problems = new Problems();
    Curriculum curriculum = Curriculum.bundled();
    GLOSSARY = GlossaryReader.read(curriculum, "trumpet", problems)
        .orElseThrow(() -> new IllegalStateException(problems.all().toString()));
    INSTRUMENT = InstrumentReader.read(curriculum, "trumpet", GLOSSARY, problems)
        .orElseThrow(() -> new IllegalStateException(problems.all().toString()));
    STUDIO = Studio.of(INSTRUMENT, GLOSSARY);
  }

  private Trumpet() {}
}
