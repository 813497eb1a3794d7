package ferrule.drawing;

import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Reads the views of an instrument. */
final class ViewsReader {

  private final Glossary glossary;
  private final Problems problems;
  private final SolidReader numbers;

  ViewsReader(Glossary glossary, Problems problems, SolidReader numbers) {
    this.glossary = glossary;
    this.problems = problems;
    this.numbers = numbers;
  }

  List<View> read(YamlNode root) {
    List<View> views = new ArrayList<>();
    Set<String> ids = new HashSet<>();
    for (YamlNode node : root.list("views")) {
      String id = node.text("id");
      if (!ids.add(id)) {
        problems.add(node.keyAt("id"), "expected a view id of its own, found '" + id + "' a second time");
      }
      try {
        views.add(view(node, id));
      } catch (IllegalArgumentException | ArithmeticException e) {
        problems.add(node.at(), e.getMessage());
      }
    }
    return views;
  }

  private View view(YamlNode node, String id) {
    List<View.Move> moves = new ArrayList<>();
    for (YamlNode move : node.list("moves")) {
      moves.add(new View.Move(
          concepts(move, "parts"), numbers.vec(move.get("by").orElseThrow()), move.flag("line", true)));
    }
    return new View(
        id,
        node.text("title"),
        node.optionalText("assembly").flatMap(a -> concept(node, "assembly", a)),
        numbers.vec(node.get("from").orElseThrow()),
        numbers.vec(node.get("up").orElseThrow()),
        concepts(node, "show"),
        new LinkedHashSet<>(concepts(node, "hide")),
        new LinkedHashSet<>(concepts(node, "ghost")),
        moves,
        variants(node));
  }

  private List<String> variants(YamlNode node) {
    for (String v : node.texts("variants")) {
      if (glossary.variants().stream().noneMatch(known -> known.id().equals(v))) {
        problems.add(node.keyAt("variants"), "expected the id of a variant, found '" + v + "'");
      }
    }
    return node.texts("variants");
  }

  private List<ConceptId> concepts(YamlNode node, String key) {
    return node.texts(key).stream().flatMap(name -> concept(node, key, name).stream()).toList();
  }

  private Optional<ConceptId> concept(YamlNode node, String key, String name) {
    Optional<ConceptId> id = ConceptId.isValid(name)
        ? glossary.find(ConceptId.of(name)).map(c -> c.id())
        : Optional.empty();
    if (id.isEmpty()) {
      problems.add(node.keyAt(key), "expected the id of a concept of the glossary, found '" + name + "'");
    }
    return id;
  }
}
