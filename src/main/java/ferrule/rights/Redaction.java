package ferrule.rights;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Set;

/** Takes a person out of the JSON of statements, grades and drafts. */
final class Redaction {

  // what people write by hand; every other text is an id, a date, a signer's name or from the curriculum
  private static final Set<String> FREE_WORDS = Set.of("note", "reason");
  private static final ObjectMapper JSON = new ObjectMapper();

  private final Names names;
  private final String pseudonym;

  /** Puts this pseudonym in the place of these names. */
  Redaction(Names names, String pseudonym) {
    this.names = names;
    this.pseudonym = pseudonym;
  }

  /** A text of the person's own record: without name, free words and photos. */
  ObjectNode own(String json) {
    ObjectNode node = read(json);
    if (node.get("apprentice") instanceof ObjectNode apprentice) {
      apprentice.put("name", pseudonym);
    }
    if (node.get("grade") instanceof ObjectNode grade) {
      grade.remove("photos");
    }
    inFreeWords(node, words -> words.isEmpty() ? words : ErasureTables.LEFT);
    return node;
  }

  /** A text of somebody else's record, with the pseudonym where free words name the person. */
  ObjectNode others(String json) {
    ObjectNode node = read(json);
    inFreeWords(node, this::inWords);
    return node;
  }

  /** Words with the pseudonym where they name the person. */
  String inWords(String words) {
    return names.replace(words, pseudonym);
  }

  private interface Change {
    String of(String words);
  }

  private static void inFreeWords(JsonNode node, Change change) {
    if (node instanceof ObjectNode object) {
      for (String key : FREE_WORDS) {
        if (object.path(key).isTextual()) {
          object.put(key, change.of(object.get(key).textValue()));
        }
      }
    }
    node.forEach(child -> inFreeWords(child, change));
  }

  private static ObjectNode read(String json) {
    try {
      return (ObjectNode) JSON.readTree(json);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a record cannot be read; run verify", e);
    }
  }
}
