package ferrule.naming;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;

/** The trumpet's glossary and its reader, made once for all tests. */
final class Trumpet {

  static final Glossary GLOSSARY = read();
  static final TermReader READER = TermReader.of(GLOSSARY);

  private Trumpet() {}

  private static Glossary read() {
    Problems problems = new Problems();
    return GlossaryReader.read(Curriculum.bundled(), "trumpet", problems)
        .orElseThrow(() -> new IllegalStateException("the glossary has faults: " + problems.all()));
  }

  static Concept part(String id) {
    return GLOSSARY.get(ConceptId.of(id));
  }

  static Verdict judge(String id, String typed) {
    return READER.judge(ConceptId.of(id), typed);
  }

  /** The ids of the parts that a phrase picks out, joined by commas. */
  static String picked(String typed) {
    return String.join(",", READER.read(typed).parts().stream().map(c -> c.id().value()).toList());
  }
}
