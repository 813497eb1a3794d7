package ferrule.ledger;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import java.util.HexFormat;
import java.util.Map;
import java.util.TreeMap;

/**
 * The statement that somebody was erased. It vouches for the texts that stand in the place of signed ones since: for each
 * such entry it names the number and the hash of the text that is there now, made as a leaf's hash is.
 */
public final class Erasure {

  /** The kind of such a statement. */
  public static final String KIND = "erasure";

  private static final String REDACTED = "redacted";
  private static final ObjectMapper JSON = new ObjectMapper();

  private Erasure() {}

  /** Adds to an erasure what it redacts. */
  static ObjectNode vouchFor(Map<LogEntry, Statement> texts, ObjectNode said) {
    ArrayNode redacted = said.putArray(REDACTED);
    new TreeMap<>(byNumber(texts)).forEach((number, text) ->
        redacted.addObject().put("number", number).put("leaf", leafHash(text.text())));
    return said;
  }

  private static Map<Long, Statement> byNumber(Map<LogEntry, Statement> texts) {
    Map<Long, Statement> numbered = new TreeMap<>();
    texts.forEach((entry, text) -> numbered.put(entry.number(), text));
    return numbered;
  }

  private static String leafHash(String text) {
    return HexFormat.of().formatHex(MerkleTree.leafHash(text.getBytes(StandardCharsets.UTF_8)));
  }

  /** Refuses a text that is of another statement than the entry, and any for an erasure itself. */
  static void requireSameButText(LogEntry entry, Statement text) {
    Statement said = entry.said();
    Statement same = new Statement(
        said.kind(), said.id(), said.subject(), said.supersedes(), said.draft(), said.at(), text.text());
    if (!same.equals(text) || said.kind().equals(KIND)) {
      throw new IllegalArgumentException("record " + entry.number() + " cannot be redacted so: only its text may change");
    }
  }

  /**
   * The hashes of the texts that an entry vouches for, by the number of the record; of any but an erasure none.
   *
   * @throws IllegalArgumentException if it is an erasure and cannot be read
   */
  static Map<Long, String> vouched(LogEntry entry) {
    Map<Long, String> hashes = new TreeMap<>();
    if (entry.kind().equals(KIND)) {
      try {
        for (JsonNode text : JSON.readTree(entry.body()).path(REDACTED)) {
          hashes.put(text.path("number").asLong(), text.path("leaf").asText());
        }
      } catch (JsonProcessingException e) {
        throw new IllegalArgumentException("not an erasure: " + e.getMessage(), e);
      }
    }
    return hashes;
  }
}
