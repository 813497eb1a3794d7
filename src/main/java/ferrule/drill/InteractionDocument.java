package ferrule.drill;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.procedure.Precedence;
import ferrule.procedure.ProcedureId;
import ferrule.procedure.StepId;
import java.util.ArrayList;
import java.util.List;

/** An item's stem and options as a JSON document, the form in which they are stored. */
public final class InteractionDocument {

  private static final ObjectMapper JSON = new ObjectMapper();

  private InteractionDocument() {}

  /** The document. */
  public static String write(Interaction interaction) {
    ObjectNode document = JSON.createObjectNode();
    document.put("stem", interaction.stem());
    if (interaction instanceof Interaction.TextEntry entry) {
      ArrayNode examples = document.putArray("examples");
      entry.examples().forEach(examples::add);
    } else if (interaction instanceof Interaction.Choice choice) {
      ArrayNode given = document.putArray("given");
      choice.given().forEach(given::add);
      ArrayNode options = document.putArray("options");
      choice.options().forEach(o -> options.addObject()
          .put("id", o.id()).put("text", o.text()).put("key", o.isKey()).put("because", o.because()));
    } else if (interaction instanceof Interaction.Ordering ordering) {
      document.put("procedure", ordering.procedure().value());
      ArrayNode steps = document.putArray("steps");
      ordering.steps().forEach(s -> steps.addObject()
          .put("id", s.id().value()).put("name", s.name()).put("listed", s.listed()));
      ArrayNode precedences = document.putArray("precedences");
      ordering.precedences().forEach(p -> precedences.addObject()
          .put("earlier", p.earlier().value()).put("later", p.later().value())
          .put("slip", p.slip()).put("why", p.why()));
    }
    return document.toString();
  }

  /** The interaction in a document; throws {@link IllegalStateException} if it is not one. */
  public static Interaction read(ItemKind kind, String text) {
    try {
      JsonNode document = JSON.readTree(text);
      String stem = document.path("stem").asText();
      if (kind.isTyped()) {
        return new Interaction.TextEntry(stem, texts(document.path("examples")));
      }
      if (kind.isPointed()) {
        return new Interaction.Hotspot(stem);
      }
      return kind.isChosen() ? choice(stem, document) : ordering(stem, document);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a stored item is not JSON: " + text, e);
    }
  }

  private static List<String> texts(JsonNode array) {
    List<String> texts = new ArrayList<>();
    array.forEach(text -> texts.add(text.asText()));
    return texts;
  }

  private static Interaction.Choice choice(String stem, JsonNode document) {
    List<Option> options = new ArrayList<>();
    document.path("options").forEach(o -> options.add(
        new Option(
            o.path("id").asText(), o.path("text").asText(), o.path("key").asBoolean(), o.path("because").asText())));
    return new Interaction.Choice(stem, texts(document.path("given")), options);
  }

  private static Interaction.Ordering ordering(String stem, JsonNode document) {
    List<Interaction.Placed> steps = new ArrayList<>();
    document.path("steps").forEach(s -> steps.add(
        new Interaction.Placed(StepId.of(s.path("id").asText()), s.path("name").asText(), s.path("listed").asInt())));
    List<Precedence> precedences = new ArrayList<>();
    document.path("precedences").forEach(p -> precedences.add(
        new Precedence(
            StepId.of(p.path("earlier").asText()), StepId.of(p.path("later").asText()),
            p.path("slip").asText(), p.path("why").asText())));
    return new Interaction.Ordering(stem, ProcedureId.of(document.path("procedure").asText()), steps, precedences);
  }
}
