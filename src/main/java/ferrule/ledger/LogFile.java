package ferrule.ledger;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.util.Optional;

/**
 * The log as a text file of JSON lines: one line for each record, with its number and hashes, and a last line with the
 * head. The record stands in it in its canonical form, so that anybody can recompute the hashes with any tool for
 * SHA-256: a leaf is the hash of the byte 00 and the record's bytes.
 */
public final class LogFile {

  // a key that stands twice or text after the record could say another thing to another reader
  private static final ObjectMapper JSON =
      JsonMapper.builder()
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  private LogFile() {}

  /** Writes an entry's line. */
  public static void write(LogEntry entry, Appendable out) throws IOException {
    // every value but the record is a number or hexadecimal digits, and the record is JSON already
    out.append("{\"number\":").append(Long.toString(entry.number()))
        .append(",\"leaf\":\"").append(entry.leafHash())
        .append("\",\"root\":\"").append(entry.rootHash())
        .append("\",\"record\":").append(entry.body()).append("}\n");
  }

  /** Writes the last line. */
  public static void write(TreeHead head, Appendable out) throws IOException {
    out.append("{\"size\":").append(Long.toString(head.size()))
        .append(",\"head\":\"").append(head.root()).append("\"}\n");
  }

  /**
   * Recomputes a file.
   *
   * @param noted a head that was noted earlier and kept elsewhere, if there is one
   * @throws IOException if the file cannot be read
   */
  public static LogCheck.Result check(BufferedReader in, Optional<TreeHead> noted) throws IOException {
    LogCheck check = new LogCheck(noted);
    Optional<TreeHead> head = Optional.empty();
    long number = 0;
    for (String line = in.readLine(); line != null; line = in.readLine()) {
      if (line.isBlank()) {
        continue;
      }
      if (head.isPresent()) {
        return new LogCheck.Touched(number + 1, "something has been added after the head, which is the last line");
      }
      number++;
      try {
        JsonNode node = JSON.readTree(line);
        if (node.has("head")) {
          head = Optional.of(new TreeHead(node.path("size").asLong(), node.path("head").asText()));
        } else {
          check.accept(entry(node));
        }
      } catch (JsonProcessingException | IllegalArgumentException e) {
        return new LogCheck.Touched(number, "line " + number + " has been altered: it is not a line of this kind of file");
      }
    }
    return check.finish(head);
  }

  private static LogEntry entry(JsonNode node) {
    // the file may have been laid out anew by another tool; the canonical form is the same whatever the layout
    String text = CanonicalJson.canonical(node.path("record").toString());
    return new LogEntry(
        node.path("number").asLong(), Statement.read(text), node.path("leaf").asText(), node.path("root").asText());
  }
}
