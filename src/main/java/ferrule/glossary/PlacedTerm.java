package ferrule.glossary;

import ferrule.curriculum.Position;
import ferrule.curriculum.YamlNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A term with the place where its words stand in the file.
 *
 * @param concept the id of the concept that it is a label of
 * @param at where its words stand
 * @param senseAt where its sense stands; the words' place if it has none
 * @param term the term
 */
record PlacedTerm(String concept, Position at, Position senseAt, Term term) {

  /** The terms of a concept's entry, the preferred one first. */
  static List<PlacedTerm> of(YamlNode concept) {
    String id = concept.text("id");
    List<PlacedTerm> terms = new ArrayList<>();
    terms.add(of(id, concept.get("term").orElseThrow(), TermRole.PREFERRED));
    concept.list("alternative").forEach(node -> terms.add(of(id, node, TermRole.ALTERNATIVE)));
    concept.list("hidden").forEach(node -> terms.add(
        of(id, node, TermRole.valueOf(node.text("as").toUpperCase(Locale.ROOT)))));
    return terms;
  }

  private static PlacedTerm of(String id, YamlNode node, TermRole role) {
    if (node.isScalar()) {
      return new PlacedTerm(id, node.at(), node.at(), Term.of(node.text(), role));
    }
    Position at = node.get("term").orElseThrow().at();
    Optional<YamlNode> sense = node.get("sense");
    return new PlacedTerm(id, at, sense.map(YamlNode::at).orElse(at),
        new Term(node.text("term"), role, sense.map(YamlNode::text)));
  }

  /** The words as two terms are compared: lower case, single blanks. */
  String folded() {
    return fold(term.text());
  }

  /** A text as two terms are compared. */
  static String fold(String text) {
    return text.strip().toLowerCase(Locale.ROOT).replaceAll("\\s+", " ");
  }
}
