package ferrule.ledger;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.StreamReadFeature;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.BufferedReader;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.DateTimeException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.StreamSupport;

/**
 * Records of a log, or two of its heads, with all that is needed to check them without the log. JSON lines: a public key;
 * the heads that were signed with it; then for each record its number, the size of the log that it is proved to be in,
 * its leaf, the path of the proof, and the record itself in canonical form (a record that was redacted names the erasure,
 * which stands in the file too); or, for two heads, their sizes and the path.
 */
public final class ProofFile {

  /** The outcome of checking a file. */
  public sealed interface Result permits Proven, Unproven {}

  /**
   * Everything in the file is proved.
   *
   * @param records how many records
   * @param heads the signed heads that it is proved by
   * @param key that signed them
   */
  public record Proven(int records, List<SignedHead> heads, HeadKey key) implements Result {}

  /**
   * Something in the file is not proved.
   *
   * @param sentence what, and why
   */
  public record Unproven(String sentence) implements Result {}

  private static final ObjectMapper JSON =
      JsonMapper.builder()
          .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
          .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
          .build();

  private ProofFile() {}

  /** The file of these records, each proved to be in the log at this head. */
  public static String of(HeadKey key, SignedHead head, List<ProvenEntry> records) {
    StringBuilder out = new StringBuilder();
    try {
      write(key, head, out);
      for (ProvenEntry proven : records) {
        write(proven, out);
      }
    } catch (IOException e) {
      throw new IllegalStateException("writing to memory does not fail", e);
    }
    return out.toString();
  }

  /** Writes the lines that come first. */
  public static void write(HeadKey key, SignedHead head, Appendable out) throws IOException {
    out.append(LogFile.json(key).toString()).append('\n');
    out.append(LogFile.json(head).toString()).append('\n');
  }

  /** Writes the line of a record, which is proved to be in the log at the head that the file begins with. */
  public static void write(ProvenEntry proven, Appendable out) throws IOException {
    ObjectNode proof = JSON.createObjectNode();
    proof.put("number", proven.entry().number()).put("size", proven.proof().size());
    proof.put("leaf", proven.entry().leafHash());
    proven.entry().redactedBy().ifPresent(erasure -> proof.put("redacted", erasure));
    proven.proof().path().forEach(proof.putArray("path")::add);
    String start = proof.toString();
    out.append(start, 0, start.length() - 1).append(",\"record\":").append(proven.entry().body()).append("}\n");
  }

  /** The file of two heads, the second of a log that begins with the log of the first. */
  public static String of(HeadKey key, SignedHead first, SignedHead second, ConsistencyProof proof) {
    StringBuilder out = new StringBuilder();
    line(out, LogFile.json(key));
    line(out, LogFile.json(first));
    line(out, LogFile.json(second));
    ObjectNode node = JSON.createObjectNode().put("first", proof.first()).put("second", proof.second());
    proof.path().forEach(node.putArray("path")::add);
    line(out, node);
    return out.toString();
  }

  private static void line(StringBuilder out, JsonNode node) {
    out.append(node).append('\n');
  }

  /**
   * Checks a file.
   *
   * @param noted a head that was noted earlier and kept elsewhere, if there is one: the file must speak of it
   * @param trusted the only key whose signatures count, if there is one; else the file's own
   * @throws IOException if the file cannot be read
   */
  public static Result check(BufferedReader in, Optional<TreeHead> noted, Optional<HeadKey> trusted)
      throws IOException {
    Reading reading = new Reading(noted, trusted);
    int number = 0;
    for (String line = in.readLine(); line != null; line = in.readLine()) {
      number++;
      try {
        Optional<String> fault = line.isBlank() ? Optional.empty() : reading.take(JSON.readTree(line));
        if (fault.isPresent()) {
          return new Unproven("line " + number + ": " + fault.get());
        }
      } catch (JsonProcessingException | IllegalArgumentException | DateTimeException e) {
        return new Unproven("line " + number + " is not a line of this kind of file, or has been altered");
      }
    }
    return reading.finish();
  }

  /** One reading of a file, line by line. */
  private static final class Reading {

    private final Optional<TreeHead> noted;
    private final Optional<HeadKey> trusted;
    private final Map<Long, String> roots = new HashMap<>();
    private final List<SignedHead> heads = new ArrayList<>();
    private Optional<HeadKey> key = Optional.empty();
    // texts that an erasure in this file is to vouch for, and what each proved record vouches for
    private final List<Awaited> awaited = new ArrayList<>();
    private final Map<Long, Map<Long, String>> vouched = new HashMap<>();
    private int records;

    private record Awaited(String name, long number, String leaf, long erasure) {

      boolean isVouchedBy(Map<Long, Map<Long, String>> vouched) {
        return leaf.equals(vouched.getOrDefault(erasure, Map.of()).get(number));
      }
    }

    Reading(Optional<TreeHead> noted, Optional<HeadKey> trusted) {
      this.noted = noted;
      this.trusted = trusted;
    }

    Optional<String> take(JsonNode line) {
      if (line.has("key")) {
        return takeKey(HeadKey.of(line.path("key").asText()));
      } else if (line.has("signature")) {
        return takeHead(LogFile.signedHead(line));
      } else if (line.has("record")) {
        return takeRecord(line);
      }
      return takeConsistency(line);
    }

    private Optional<String> takeKey(HeadKey read) {
      if (trusted.isPresent() && !trusted.get().equals(read)) {
        return Optional.of("the heads are signed with another key than the one that you trust");
      }
      key = Optional.of(read);
      return Optional.empty();
    }

    private Optional<String> takeHead(SignedHead head) {
      if (key.filter(head::isSignedWith).isEmpty()) {
        return Optional.of("the signature of the head of " + head.head().size() + " records does not fit");
      }
      heads.add(head);
      return remember(head.head());
    }

    private Optional<String> remember(TreeHead head) {
      String before = roots.putIfAbsent(head.size(), head.root());
      return before == null || before.equals(head.root()) ? Optional.empty()
          : Optional.of("two different heads of " + head.size() + " records: the log has been rewritten");
    }

    private Optional<String> takeRecord(JsonNode line) {
      records++;
      String text = CanonicalJson.canonical(line.path("record").toString());
      InclusionProof proof =
          new InclusionProof(line.path("number").asLong(), line.path("size").asLong(), texts(line.path("path")));
      Statement said = Statement.read(text);
      String name = "record " + proof.number() + " (" + said.kind() + " " + said.id() + ")";
      String leaf = HexFormat.of().formatHex(MerkleTree.leafHash(text.getBytes(StandardCharsets.UTF_8)));
      String signed = line.path("leaf").asText();
      Optional<Long> redactedBy = LogFile.redactedBy(line);
      if (leaf.equals(signed) == redactedBy.isPresent() || redactedBy.isPresent() && said.kind().equals(Erasure.KIND)) {
        return Optional.of(name + " has been altered: its text does not have the hash that stands beside it");
      }
      redactedBy.ifPresent(erasure -> awaited.add(new Awaited(name, proof.number(), leaf, erasure)));
      String root = roots.get(proof.size());
      if (root == null) {
        return Optional.of(name + ": no signed head of " + proof.size() + " records stands before it");
      }
      if (!proof.holds(signed, root)) {
        return Optional.of(name + " is not proved to be in the log at the head of " + proof.size() + " records");
      }
      vouched.put(
          proof.number(), Erasure.vouched(new LogEntry(proof.number(), said, signed, root, Optional.empty(), redactedBy)));
      return Optional.empty();
    }

    private Optional<String> takeConsistency(JsonNode line) {
      ConsistencyProof proof =
          new ConsistencyProof(line.path("first").asLong(), line.path("second").asLong(), texts(line.path("path")));
      String first = roots.get(proof.first());
      String second = roots.get(proof.second());
      if (first == null || second == null) {
        return Optional.of("the two signed heads must stand before the proof");
      }
      return proof.holds(first, second) ? Optional.empty()
          : Optional.of("the log of " + proof.second() + " records is not proved to begin with that of "
              + proof.first());
    }

    private static List<String> texts(JsonNode array) {
      return StreamSupport.stream(array.spliterator(), false).map(JsonNode::asText).toList();
    }

    Result finish() {
      if (key.isEmpty() || heads.isEmpty()) {
        return new Unproven("the file holds no signed head");
      }
      if (noted.isPresent() && !noted.get().root().equals(roots.get(noted.get().size()))) {
        return new Unproven(
            roots.containsKey(noted.get().size())
                ? "the head that you noted at " + noted.get().size() + " records is not the one in this file: the log"
                    + " has been rewritten since, or the file"
                : "the file does not speak of the log at " + noted.get().size() + " records");
      }
      return awaited.stream().filter(text -> !text.isVouchedBy(vouched)).findFirst()
          .<Result>map(text -> new Unproven(text.name() + " has been altered, or the file is not whole: no erasure in it"
              + " vouches for its text"))
          .orElseGet(() -> new Proven(records, heads, key.get()));
    }
  }
}
