package ferrule.ledger;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.function.LongConsumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The log as a text file of JSON lines. First the public keys and the heads that were signed with them, one line each;
 * then one line for each record, with its number and hashes; last a line with the log's own head. The record stands in
 * its canonical form, so that anybody can recompute the hashes with any tool for SHA-256: a leaf is the hash of the byte
 * 00 and the record's bytes. Where an erasure took something out of a record, the line says by which record that was; the
 * hash of the text that stands there is then in that record's list, and the leaf is of the text that was signed.
 */
public final class LogFile {

  // a key that stands twice or text after the record could say another thing to another reader
  private static final ObjectMapper JSON =
      JsonMapper.builder()
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  private static final HexFormat HEX = HexFormat.of();
  private static final Pattern OWN_LAYOUT =
      Pattern.compile("\\{\"number\":(\\d{1,18}),\"leaf\":\"([0-9a-f]{64})\",\"root\":\"([0-9a-f]{64})\",\"record\":\\{");

  private LogFile() {}

  /** Writes the lines that come first. */
  public static void write(Witnesses witnesses, Appendable out) throws IOException {
    for (HeadKey key : witnesses.keys()) {
      out.append(json(key).toString()).append('\n');
    }
    for (SignedHead signed : witnesses.signed()) {
      out.append(json(signed).toString()).append('\n');
    }
  }

  static JsonNode json(HeadKey key) {
    return JSON.createObjectNode().put("key", key.publicKey());
  }

  static JsonNode json(SignedHead signed) {
    return JSON.createObjectNode()
        .put("size", signed.head().size()).put("root", signed.head().root()).put("at", signed.at().toString())
        .put("by", signed.keyId()).put("signature", signed.signature());
  }

  /** By which record a line says that its own was redacted, if it says so. */
  static Optional<Long> redactedBy(JsonNode line) {
    return line.has("redacted") ? Optional.of(line.path("redacted").asLong()) : Optional.empty();
  }

  /** The head that a line states. */
  static SignedHead signedHead(JsonNode line) {
    return new SignedHead(
        new TreeHead(line.path("size").asLong(), line.path("root").asText()), Instant.parse(line.path("at").asText()),
        line.path("by").asText(), line.path("signature").asText());
  }

  /** Writes an entry's line. */
  public static void write(LogEntry entry, Appendable out) throws IOException {
    // every value but the record is a number or hexadecimal digits, and the record is JSON already
    out.append("{\"number\":").append(Long.toString(entry.number()))
        .append(",\"leaf\":\"").append(entry.leafHash())
        .append("\",\"root\":\"").append(entry.rootHash()).append('"');
    if (entry.redactedBy().isPresent()) {
      out.append(",\"redacted\":").append(Long.toString(entry.redactedBy().get()));
    }
    out.append(",\"record\":").append(entry.body()).append("}\n");
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
    return check(in, noted, Optional.empty(), List.of(), done -> {});
  }

  /**
   * Recomputes a file.
   *
   * @param noted a head that was noted earlier and kept elsewhere, if there is one
   * @param trusted the only key whose signatures count, if there is one
   * @param vouched what is kept beside the file
   * @param progress told the number of records done, now and then
   * @throws IOException if the file cannot be read
   */
  public static LogCheck.Result check(
      BufferedReader in, Optional<TreeHead> noted, Optional<HeadKey> trusted, List<Vouched> vouched,
      LongConsumer progress) throws IOException {
    return new Reading(noted, trusted, vouched, progress).check(in);
  }

  /** One reading of a file, line by line. */
  private static final class Reading {

    private static final int STRETCH = 1_000;

    private final Optional<TreeHead> noted;
    private final Optional<HeadKey> trusted;
    private final List<Vouched> vouched;
    private final LongConsumer progress;
    private final List<HeadKey> keys = new ArrayList<>();
    private final List<SignedHead> signed = new ArrayList<>();
    private final List<LogEntry> stretch = new ArrayList<>();
    private LogCheck check;
    private Optional<TreeHead> head = Optional.empty();
    private long records;

    Reading(
        Optional<TreeHead> noted, Optional<HeadKey> trusted, List<Vouched> vouched, LongConsumer progress) {
      this.noted = noted;
      this.trusted = trusted;
      this.vouched = vouched;
      this.progress = progress;
    }

    LogCheck.Result check(BufferedReader in) throws IOException {
      long number = 0;
      for (String line = in.readLine(); line != null; line = in.readLine()) {
        number++;
        if (line.isBlank()) {
          continue;
        }
        if (head.isPresent()) {
          return new LogCheck.Touched(
              records + 1, "something has been added after the head, which is the last line");
        }
        try {
          take(line);
        } catch (JsonProcessingException | IllegalArgumentException | DateTimeException e) {
          begin();
          check.accept(new LogCheck.Touched(
              records + 1, "line " + number + " has been altered: it is not a line of this kind of file"));
        }
        if (check != null && check.touched().isPresent()) {
          break;
        }
      }
      begin();
      askFeatures();
      return check.finish(head, vouched);
    }

    private void begin() {
      if (check == null) {
        Witnesses all = new Witnesses(noted, signed, keys);
        check = new LogCheck(trusted.map(all::signedWith).orElse(all));
      }
    }

    private void take(String line) throws JsonProcessingException {
      Matcher own = OWN_LAYOUT.matcher(line);
      if (own.lookingAt() && line.endsWith("}}")) {
        take(own, line);
        return;
      }
      JsonNode node = JSON.readTree(line);
      if (node.has("record")) {
        takeEntry(entry(node));
      } else if (node.has("head")) {
        begin();
        head = Optional.of(new TreeHead(node.path("size").asLong(), node.path("head").asText()));
      } else {
        takeWitness(node);
      }
    }

    private void take(Matcher own, String line) throws JsonProcessingException {
      begin();
      String text = line.substring(own.end() - 1, line.length() - 1);
      byte[] leaf = MerkleTree.leafHash(text.getBytes(StandardCharsets.UTF_8));
      if (HEX.formatHex(leaf).equals(own.group(2))) {
        LogEntry entry = new LogEntry(
            Long.parseLong(own.group(1)), Statement.read(text), own.group(2), own.group(3), Optional.empty());
        keep(entry);
        check.accept(entry, leaf);
      } else {
        takeEntry(entry(JSON.readTree(line)));
      }
    }

    private void takeEntry(LogEntry entry) {
      begin();
      keep(entry);
      check.accept(entry);
    }

    // the file may have been laid out anew by another tool; the canonical form is the same whatever the layout
    private static LogEntry entry(JsonNode node) {
      String text = CanonicalJson.canonical(node.path("record").toString());
      return new LogEntry(
          node.path("number").asLong(), Statement.read(text), node.path("leaf").asText(), node.path("root").asText(),
          Optional.empty(), redactedBy(node));
    }

    private void takeWitness(JsonNode node) {
      if (check != null) {
        throw new IllegalArgumentException("keys and signed heads stand before the records");
      }
      if (node.has("key")) {
        keys.add(HeadKey.of(node.path("key").asText()));
      } else {
        signed.add(signedHead(node));
      }
    }

    private void keep(LogEntry entry) {
      records++;
      if (records % STRETCH == 0) {
        progress.accept(records);
      }
      if (!vouched.isEmpty()) {
        stretch.add(entry);
        if (stretch.size() == STRETCH) {
          askFeatures();
        }
      }
    }

    private void askFeatures() {
      vouched.stream().flatMap(v -> v.firstTouched(stretch).stream()).forEach(check::accept);
      stretch.clear();
    }
  }
}
