package ferrule.ledger;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.Base64;
import java.util.Collections;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The signed statement that these files were given out together when the log stood at this head: whoever has it sees
 * whether one of them was altered, added or taken away since.
 *
 * @param head of the log at that time
 * @param at when it was signed, to the millisecond
 * @param files the SHA-256 of each in hexadecimal, by its name
 * @param key that signed it
 * @param signature Ed25519 in base64, over {@link #message}
 */
public record FileSeal(TreeHead head, Instant at, SortedMap<String, String> files, HeadKey key, String signature) {

  private static final String KIND = "sealed-files";
  private static final ObjectMapper JSON =
      JsonMapper.builder()
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  /** Copies the files. */
  public FileSeal {
    files = Collections.unmodifiableSortedMap(new TreeMap<>(files));
  }

  /** The canonical JSON that is signed. Its kind keeps it apart from everything else that the key signs. */
  static String message(TreeHead head, Instant at, SortedMap<String, String> files) {
    return CanonicalJson.of(said(head, at, files));
  }

  private static ObjectNode said(TreeHead head, Instant at, SortedMap<String, String> files) {
    ObjectNode said = JSON.createObjectNode().put("at", at.toString()).put("kind", KIND);
    files.forEach(said.putObject("files")::put);
    return said.put("root", head.root()).put("size", head.size());
  }

  /** Whether its key signed it and it still says what it said then. */
  public boolean isSigned() {
    try {
      return key.signed(
          message(head, at, files).getBytes(StandardCharsets.UTF_8), Base64.getDecoder().decode(signature));
    } catch (IllegalArgumentException e) {
      return false; // the signature is not base64
    }
  }

  /** The text of a file of it. */
  public String text() {
    ObjectNode node = JSON.createObjectNode().put("key", key.publicKey()).put("signature", signature);
    node.set("said", said(head, at, files));
    return node.toPrettyString() + "\n";
  }

  /**
   * Reads such a text.
   *
   * @throws IllegalArgumentException if it is none
   */
  public static FileSeal read(String text) {
    try {
      JsonNode node = JSON.readTree(text);
      JsonNode said = node.path("said");
      if (!said.path("kind").asText().equals(KIND)) {
        throw new IllegalArgumentException("the seal is not one of files");
      }
      SortedMap<String, String> files = new TreeMap<>();
      said.path("files").fields().forEachRemaining(file -> files.put(file.getKey(), file.getValue().asText()));
      return new FileSeal(
          new TreeHead(said.path("size").asLong(), said.path("root").asText()), Instant.parse(said.path("at").asText()),
          files, HeadKey.of(node.path("key").asText()), node.path("signature").asText());
    } catch (JsonProcessingException | DateTimeException e) {
      throw new IllegalArgumentException("the seal cannot be read", e);
    }
  }
}
