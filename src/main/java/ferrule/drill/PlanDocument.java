package ferrule.drill;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** A plan as a JSON document, the form in which it is stored. */
public final class PlanDocument {

  private static final ObjectMapper JSON = new ObjectMapper();

  private PlanDocument() {}

  /** The document. */
  public static String write(Plan plan) {
    ObjectNode document = JSON.createObjectNode();
    plan.assemblies().forEach(a -> document.withArray("assemblies").add(a.value()));
    plan.parts().forEach(p -> document.withArray("parts").add(p.value()));
    plan.kinds().forEach(k -> document.withArray("kinds").add(k.word()));
    document.put("length", plan.length());
    document.put("colloquial", plan.colloquial());
    document.put("failedFirst", plan.failedFirst());
    plan.blueprint().ifPresent(blueprint -> {
      ArrayNode cells = document.putArray("cells");
      blueprint.cells().forEach(c -> {
        ObjectNode cell = cells.addObject().put("kind", c.kind().word()).put("count", c.count());
        c.assembly().ifPresent(a -> cell.put("assembly", a.value()));
      });
    });
    return document.toString();
  }

  /** The plan in a document; throws {@link IllegalStateException} if it is not one. */
  public static Plan read(String text) {
    try {
      JsonNode document = JSON.readTree(text);
      Set<ItemKind> kinds = new LinkedHashSet<>();
      document.path("kinds").forEach(k -> kinds.add(ItemKind.parse(k.asText())));
      return new Plan(
          ids(document.path("assemblies")),
          ids(document.path("parts")),
          kinds,
          document.path("length").asInt(),
          document.path("colloquial").asBoolean(),
          blueprint(document.path("cells")),
          document.path("failedFirst").asBoolean());
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a stored plan is not JSON: " + text, e);
    }
  }

  private static Optional<Blueprint> blueprint(JsonNode array) {
    List<Blueprint.Cell> cells = new ArrayList<>();
    array.forEach(c -> cells.add(
        new Blueprint.Cell(
            Optional.of(c.path("assembly").asText()).filter(a -> !a.isEmpty()).map(ConceptId::of),
            ItemKind.parse(c.path("kind").asText()),
            c.path("count").asInt())));
    return cells.isEmpty() ? Optional.empty() : Optional.of(new Blueprint(cells));
  }

  private static List<ConceptId> ids(JsonNode array) {
    List<ConceptId> ids = new ArrayList<>();
    array.forEach(id -> ids.add(ConceptId.of(id.asText())));
    return ids;
  }
}
