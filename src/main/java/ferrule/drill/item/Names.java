package ferrule.drill.item;

import ferrule.glossary.ConceptId;

/** Options that are names of parts; why one is wrong is for naming to say. */
final class Names {

  private Names() {}

  static Option option(Parts parts, ConceptId part, boolean isKey) {
    return new Option(part.value(), parts.term(part), isKey, "");
  }
}
