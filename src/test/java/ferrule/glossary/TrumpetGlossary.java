package ferrule.glossary;

import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import java.util.List;

/** The trumpet's glossary and conventions as the tests read them, once. */
final class TrumpetGlossary {

  static final Glossary GLOSSARY = read();
  static final Conventions CONVENTIONS = readConventions();

  private TrumpetGlossary() {}

  private static Glossary read() {
    Problems problems = new Problems();
    return GlossaryReader.read(Curriculum.bundled(), "trumpet", problems)
        .orElseThrow(() -> new AssertionError(problems.all().toString()));
  }

  private static Conventions readConventions() {
    Problems problems = new Problems();
    return ConventionsReader.read(Curriculum.bundled(), "trumpet", GLOSSARY, problems)
        .orElseThrow(() -> new AssertionError(problems.all().toString()));
  }

  static Concept concept(String id) {
    return GLOSSARY.get(ConceptId.of(id));
  }

  static ConceptId id(String id) {
    return ConceptId.of(id);
  }

  /** The nameable concepts of a kind, those of the kinds below it included. */
  static List<Concept> ofKind(String kind) {
    return GLOSSARY.nameable().stream()
        .filter(c -> GLOSSARY.kindsOf(c.id()).stream().anyMatch(k -> k.id().value().equals(kind)))
        .toList();
  }
}
