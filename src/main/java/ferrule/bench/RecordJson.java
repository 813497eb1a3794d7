package ferrule.bench;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.ledger.CanonicalJson;
import ferrule.ledger.Statement;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.StreamSupport;

/**
 * A record as the JSON of a statement in the log. Readings and limits are texts, not JSON numbers, so that 0.30 keeps its
 * last zero.
 */
final class RecordJson {

  private static final ObjectMapper JSON = new ObjectMapper();

  private RecordJson() {}

  /** What a record says in the log. */
  static ObjectNode write(BenchRecord record) {
    Signature signature = record.signature();
    ObjectNode root =
        Statement.begin(record.kind(), record.id(), signature.by(), signature.name(), signature.at());
    signature.onDevice().ifPresent(d -> write(root.putObject("withoutNetwork"), d));
    root.put("edition", record.edition());
    root.putObject("apprentice").put("id", record.apprentice().toString()).put("name", record.apprenticeName());
    record.supersedes().ifPresent(id -> root.put("supersedes", id.toString()));
    if (record instanceof BenchRecord.SecondSignature second) {
      root.put("seconds", second.seconds().toString());
    }
    record.draft().ifPresent(id -> root.put("draft", id.toString()));
    if (!record.reason().isEmpty()) {
      root.put("reason", record.reason());
    }
    record.grade().ifPresent(grade -> write(root.putObject("grade"), grade));
    return root;
  }

  /** A grade that is in no record, as canonical text. */
  static String write(Grade grade) {
    ObjectNode root = JSON.createObjectNode();
    root.putObject("apprentice").put("id", grade.apprentice().toString()).put("name", grade.apprenticeName());
    write(root.putObject("grade"), grade);
    return CanonicalJson.of(root);
  }

  /** The grade that {@link #write(Grade)} wrote. */
  static Grade readGrade(String json) {
    try {
      return grade(JSON.readTree(json));
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("not a grade: " + e.getMessage(), e);
    }
  }

  private static void write(ObjectNode node, OnDevice device) {
    node.put("signedAt", device.signedAt().toString()).put("receivedAt", device.receivedAt().toString());
    node.put("presenceProvenAt", device.provenAt().toString());
    node.put("device", device.device().toString()).put("statement", device.statement());
  }

  private static Optional<OnDevice> onDevice(JsonNode root) {
    if (!root.has("withoutNetwork")) {
      return Optional.empty();
    }
    JsonNode node = root.get("withoutNetwork");
    return Optional.of(
        new OnDevice(
            Instant.parse(text(node, "signedAt")), Instant.parse(text(node, "receivedAt")),
            Instant.parse(text(node, "presenceProvenAt")), UUID.fromString(text(node, "device")),
            text(node, "statement")));
  }

  private static void write(ObjectNode node, Grade grade) {
    node.putObject("task").put("id", grade.task().value()).put("title", grade.taskTitle());
    node.putObject("instrument").put("kind", grade.instrument()).put("tag", grade.tag());
    grade.cautions().forEach(node.putArray("cautions")::add);
    ArrayNode findings = node.putArray("findings");
    grade.findings().forEach(finding -> write(findings.addObject(), finding));
    node.put("note", grade.note());
    if (!grade.photos().isEmpty()) {
      ArrayNode photos = node.putArray("photos");
      grade.photos().forEach(
          p -> photos.addObject().put("sha256", p.sha256()).put("width", p.width()).put("height", p.height()));
    }
    if (grade.secondSignature()) {
      node.put("secondSignature", true);
    }
    node.put("standing", grade.outcome().standing().word());
    grade.outcome().reasons().forEach(node.putArray("reasons")::add);
  }

  private static void write(ObjectNode node, Finding finding) {
    node.put("criterion", finding.criterion()).put("title", finding.title());
    node.put("critical", finding.critical()).put("weight", finding.weight());
    if (finding instanceof Finding.Rated rated) {
      ObjectNode r = node.putObject("rated");
      r.put("level", rated.level()).put("levels", rated.levels()).put("pass", rated.passLevel());
      r.put("wording", rated.wording());
    } else if (finding instanceof Finding.Measured measured) {
      write(node.putObject("measured"), measured);
    }
  }

  private static void write(ObjectNode node, Finding.Measured measured) {
    node.put("quantity", measured.quantity()).put("unit", measured.unit().symbol());
    node.putObject("reading")
        .put("value", measured.reading().value().toPlainString())
        .put("unit", measured.reading().unit().symbol());
    ObjectNode limits = node.putObject("limits").put("source", measured.limits().source());
    measured.limits().lower().ifPresent(l -> limits.put("lower", l.toPlainString()));
    measured.limits().upper().ifPresent(u -> limits.put("upper", u.toPlainString()));
    node.put("gauge", measured.gauge());
    node.put("uncertainty", measured.expandedUncertainty().toPlainString());
    node.put("guard", measured.rule().multiple().toPlainString());
    node.put("verdict", measured.verdict().name().toLowerCase(java.util.Locale.ROOT).replace('_', '-'));
  }

  /**
   * The record that a text states.
   *
   * @throws IllegalArgumentException if the text states none
   */
  static BenchRecord read(String json) {
    try {
      return read(JSON.readTree(json));
    } catch (JsonProcessingException | DateTimeParseException | NumberFormatException e) {
      throw new IllegalArgumentException("not a record: " + e.getMessage(), e);
    }
  }

  private static BenchRecord read(JsonNode root) {
    UUID id = UUID.fromString(text(root, "id"));
    String edition = text(root, "edition");
    JsonNode signed = at(root, "signed");
    Signature signature =
        new Signature(
            UUID.fromString(text(signed, "id")), text(signed, "name"), Instant.parse(text(signed, "at")), onDevice(root));
    String kind = text(root, "kind");
    return switch (kind) {
      case BenchRecord.SignOff.KIND ->
          new BenchRecord.SignOff(id, UUID.fromString(text(root, "draft")), grade(root), signature, edition);
      case BenchRecord.Correction.KIND ->
          new BenchRecord.Correction(
              id, UUID.fromString(text(root, "supersedes")), UUID.fromString(text(root, "draft")),
              text(root, "reason"), grade(root), signature, edition);
      case BenchRecord.Withdrawal.KIND -> {
        JsonNode apprentice = at(root, "apprentice");
        yield new BenchRecord.Withdrawal(
            id, UUID.fromString(text(root, "supersedes")), text(root, "reason"),
            UUID.fromString(text(apprentice, "id")), text(apprentice, "name"), signature, edition);
      }
      case BenchRecord.SecondSignature.KIND -> {
        JsonNode apprentice = at(root, "apprentice");
        yield new BenchRecord.SecondSignature(
            id, UUID.fromString(text(root, "seconds")), UUID.fromString(text(apprentice, "id")),
            text(apprentice, "name"), signature, edition);
      }
      default ->
          throw new IllegalArgumentException(
              "a record is a sign-off, a second signature, a correction or a withdrawal: " + kind);
    };
  }

  private static Grade grade(JsonNode root) {
    JsonNode apprentice = at(root, "apprentice");
    JsonNode grade = at(root, "grade");
    List<Finding> findings = new ArrayList<>();
    at(grade, "findings").forEach(node -> findings.add(finding(node)));
    return new Grade(
        UUID.fromString(text(apprentice, "id")), text(apprentice, "name"),
        TaskId.of(text(at(grade, "task"), "id")), text(at(grade, "task"), "title"),
        text(at(grade, "instrument"), "kind"), text(at(grade, "instrument"), "tag"),
        texts(at(grade, "cautions")), findings, text(grade, "note"), photos(grade.path("photos")),
        grade.path("secondSignature").asBoolean(false),
        new Outcome(Standing.parse(text(grade, "standing")), texts(at(grade, "reasons"))));
  }

  private static List<GradePhoto> photos(JsonNode array) {
    return StreamSupport.stream(array.spliterator(), false)
        .map(p -> new GradePhoto(text(p, "sha256"), at(p, "width").intValue(), at(p, "height").intValue()))
        .toList();
  }

  private static Finding finding(JsonNode node) {
    String criterion = text(node, "criterion");
    String title = text(node, "title");
    boolean critical = at(node, "critical").booleanValue();
    int weight = at(node, "weight").intValue();
    if (node.has("rated")) {
      JsonNode r = node.get("rated");
      return new Finding.Rated(
          criterion, title, critical, weight, at(r, "level").intValue(), at(r, "levels").intValue(),
          at(r, "pass").intValue(), text(r, "wording"));
    }
    JsonNode m = at(node, "measured");
    JsonNode limits = at(m, "limits");
    return new Finding.Measured(
        criterion, title, critical, weight, text(m, "quantity"),
        new Reading(new BigDecimal(text(at(m, "reading"), "value")), unit(at(m, "reading"))), unit(m),
        new Limits(decimal(limits, "lower"), decimal(limits, "upper"), text(limits, "source")),
        text(m, "gauge"), new BigDecimal(text(m, "uncertainty")),
        new DecisionRule(new BigDecimal(text(m, "guard"))),
        Conformity.valueOf(text(m, "verdict").toUpperCase(java.util.Locale.ROOT).replace('-', '_')));
  }

  private static Unit unit(JsonNode node) {
    String symbol = text(node, "unit");
    return Unit.parse(symbol).orElseThrow(() -> new IllegalArgumentException("unknown unit " + symbol));
  }

  private static Optional<BigDecimal> decimal(JsonNode node, String key) {
    return node.has(key) ? Optional.of(new BigDecimal(text(node, key))) : Optional.empty();
  }

  private static List<String> texts(JsonNode array) {
    return StreamSupport.stream(array.spliterator(), false).map(JsonNode::asText).toList();
  }

  private static JsonNode at(JsonNode node, String key) {
    JsonNode value = node.get(key);
    if (value == null) {
      throw new IllegalArgumentException("not a record: it has no '" + key + "'");
    }
    return value;
  }

  private static String text(JsonNode node, String key) {
    JsonNode value = at(node, key);
    if (!value.isTextual()) {
      throw new IllegalArgumentException("not a record: '" + key + "' is not a text");
    }
    return value.textValue();
  }
}
