package ferrule.drill.paper;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.drill.InteractionDocument;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.glossary.ConceptId;
import java.util.LinkedHashSet;
import java.util.Optional;
import java.util.Set;

/** An item of a worksheet as a JSON document, the form in which it is stored. */
final class ItemDocument {

  private static final ObjectMapper JSON = new ObjectMapper();

  private ItemDocument() {}

  static String write(Item item) {
    ObjectNode document = JSON.createObjectNode();
    document.put("kind", item.kind().word());
    document.put("part", item.key().value());
    document.put("view", item.view());
    item.variants().stream().sorted().forEach(v -> document.withArray("variants").add(v));
    document.put("seed", item.pictureSeed());
    item.lit().ifPresent(lit -> document.put("lit", lit.value()));
    document.put("interaction", InteractionDocument.write(item.interaction()));
    return document.toString();
  }

  static Item read(int number, String text) {
    try {
      JsonNode document = JSON.readTree(text);
      Set<String> variants = new LinkedHashSet<>();
      document.path("variants").forEach(v -> variants.add(v.asText()));
      ItemKind kind = ItemKind.parse(document.path("kind").asText());
      return new Item(
          number,
          kind,
          ConceptId.of(document.path("part").asText()),
          document.path("view").asText(),
          variants,
          document.path("seed").asLong(),
          Optional.ofNullable(document.path("lit").textValue()).map(ConceptId::of),
          InteractionDocument.read(kind, document.path("interaction").asText()));
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a stored item is not JSON: " + text, e);
    }
  }
}
