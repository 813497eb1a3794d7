package ferrule.glossary;

import ferrule.curriculum.Position;
import ferrule.curriculum.Problems;
import ferrule.curriculum.SoundPart;
import ferrule.curriculum.YamlNode;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * Finds what a schema cannot see in a glossary file: ids given twice, references that lead nowhere or to the wrong sort
 * of thing, circles, unknown variants and facets, and two concepts that the same words would pick out.
 */
final class ReferenceCheck {

  private static final List<String> SINGLE = List.of("broader", "part-of");
  private static final List<String> MANY = List.of("connects", "carries", "joins");

  private final YamlNode root;
  private final Set<String> lostIds;
  private final Problems problems;
  private final Map<String, YamlNode> concepts = new LinkedHashMap<>();

  ReferenceCheck(SoundPart part, Problems problems) {
    this.root = part.root();
    this.lostIds = part.lostIds();
    this.problems = problems;
  }

  void run(String instrument) {
    checkName(instrument);
    collect("variants", root.list("variants"));
    Map<String, YamlNode> facets = collect("facets", root.list("facets"));
    facets.values().forEach(facet -> collect("values of " + facet.text("id"), facet.list("values")));
    collect("senses", root.list("senses"));
    concepts.putAll(collect("concepts", root.list("concepts")));
    for (YamlNode concept : root.list("concepts")) {
      checkReferences(concept);
      checkLevel(concept);
      checkVariants(concept);
      concept.get("qualifiers").ifPresent(q -> checkQualifiers(q, facets));
    }
    SINGLE.forEach(this::checkCircles);
    checkPickedOutOnce();
  }

  private void checkName(String instrument) {
    if (!root.text("id").equals(instrument)) {
      problems.add(root.get("id").orElseThrow().at(),
          "the glossary's id is '" + root.text("id") + "'; expected the name of its folder, '" + instrument + "'");
    }
  }

  /** The nodes by id, the first of each; every further one with the same id is a problem. */
  private Map<String, YamlNode> collect(String list, List<YamlNode> nodes) {
    Map<String, YamlNode> byId = new LinkedHashMap<>();
    for (YamlNode node : nodes) {
      YamlNode id = node.get("id").orElseThrow();
      YamlNode earlier = byId.putIfAbsent(id.text(), node);
      if (earlier != null) {
        problems.add(id.at(), "id '" + id.text() + "' stands twice among the " + list + ", first at line "
            + earlier.get("id").orElseThrow().at().line() + "; expected an id of its own");
      }
    }
    return byId;
  }

  private void checkReferences(YamlNode concept) {
    for (String key : SINGLE) {
      concept.get(key).ifPresent(target -> checkTarget(concept, key, target));
    }
    for (String key : MANY) {
      concept.list(key).forEach(target -> checkTarget(concept, key, target));
    }
  }

  private void checkTarget(YamlNode concept, String key, YamlNode target) {
    YamlNode found = concepts.get(target.text());
    if (found == null) {
      if (!lostIds.contains(target.text())) {
        problems.add(target.at(), key + " leads to '" + target.text() + "', which is not defined; expected the id of a "
            + (key.equals("broader") ? "kind" : "part"));
      }
      return;
    }
    boolean toKind = GlossaryReader.level(found) == Level.KIND;
    if (key.equals("broader") && !toKind) {
      problems.add(target.at(), "broader leads to '" + target.text() + "', which is no kind; expected a kind");
    }
    if (!key.equals("broader") && toKind) {
      problems.add(target.at(), key + " leads to the kind '" + target.text() + "'; expected a part, not a class");
    }
    if (!SINGLE.contains(key) && target.text().equals(concept.text("id"))) {
      problems.add(target.at(), key + " leads back to '" + target.text() + "' itself; expected another part");
    }
  }

  /** A kind is a class: it has no place in the instrument. */
  private void checkLevel(YamlNode concept) {
    if (GlossaryReader.level(concept) == Level.KIND) {
      for (String key : List.of("part-of", "connects", "carries", "joins", "qualifiers", "variants", "drawn")) {
        if (concept.has(key)) {
          problems.add(concept.keyAt(key), "a kind has no '" + key + "'; expected it on the parts below the kind");
        }
      }
    }
  }

  private void checkVariants(YamlNode concept) {
    Set<String> known = new LinkedHashSet<>();
    root.list("variants").forEach(v -> known.add(v.text("id")));
    for (YamlNode variant : concept.list("variants")) {
      if (!known.contains(variant.text()) && !lostIds.contains(variant.text())) {
        problems.add(variant.at(), "unknown variant '" + variant.text() + "'; expected one of "
            + String.join(", ", known));
      }
    }
  }

  private void checkQualifiers(YamlNode qualifiers, Map<String, YamlNode> facets) {
    qualifiers.entries().forEach((facetId, value) -> {
      YamlNode facet = facets.get(facetId);
      if (facet == null) {
        if (!lostIds.contains(facetId)) {
          problems.add(qualifiers.keyAt(facetId), "unknown facet '" + facetId + "'; expected one of "
              + String.join(", ", facets.keySet()));
        }
        return;
      }
      List<String> values = facet.list("values").stream().map(v -> v.text("id")).toList();
      if (!values.contains(value.text()) && !lostIds.contains(value.text())) {
        problems.add(value.at(), "facet '" + facetId + "' has no value '" + value.text() + "'; expected one of "
            + String.join(", ", values));
      }
    });
  }

  /** Reports each circle once, at the reference of the concept of it that stands first in the file. */
  private void checkCircles(String key) {
    Set<String> done = new HashSet<>();
    for (String start : concepts.keySet()) {
      List<String> path = new ArrayList<>();
      Optional<String> at = Optional.of(start);
      while (at.isPresent() && !done.contains(at.get()) && !path.contains(at.get())) {
        path.add(at.get());
        at = Optional.ofNullable(concepts.get(at.get())).flatMap(c -> c.optionalText(key));
      }
      if (at.isPresent() && path.contains(at.get())) {
        reportCircle(key, path.subList(path.indexOf(at.get()), path.size()));
      }
      done.addAll(path);
    }
  }

  private void reportCircle(String key, List<String> circle) {
    List<String> order = List.copyOf(concepts.keySet());
    int first = 0;
    for (int i = 1; i < circle.size(); i++) {
      if (order.indexOf(circle.get(i)) < order.indexOf(circle.get(first))) {
        first = i;
      }
    }
    List<String> turned = new ArrayList<>(circle.subList(first, circle.size()));
    turned.addAll(circle.subList(0, first));
    Position at = concepts.get(turned.get(0)).get(key).orElseThrow().at();
    turned.add(turned.get(0));
    problems.add(at, key + " goes in a circle: " + String.join(" > ", turned) + "; expected it to end");
  }

  /** Two parts of the same kind with the same qualifiers could not be told apart by any name made of them. */
  private void checkPickedOutOnce() {
    Map<String, String> seen = new HashMap<>();
    for (Map.Entry<String, YamlNode> entry : concepts.entrySet()) {
      YamlNode concept = entry.getValue();
      if (GlossaryReader.level(concept) == Level.KIND || !concept.has("broader")) {
        continue;
      }
      Map<String, String> qualifiers = concept.get("qualifiers").map(GlossaryReader::qualifiers).orElse(Map.of());
      String description = concept.text("broader") + " " + new TreeSet<>(qualifiers.entrySet().stream()
          .map(q -> q.getKey() + "=" + q.getValue()).toList()) + " " + new TreeSet<>(concept.texts("joins"));
      String earlier = seen.putIfAbsent(description, entry.getKey());
      if (earlier != null) {
        problems.add(concept.at(), "'" + entry.getKey() + "' has the same kind, qualifiers and joins as '" + earlier
            + "'; expected a qualifier that tells them apart");
      }
    }
  }
}
