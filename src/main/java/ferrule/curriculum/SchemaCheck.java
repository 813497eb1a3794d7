package ferrule.curriculum;

import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import com.networknt.schema.path.NodePath;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.Collections;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.JsonNodeFactory;
import tools.jackson.databind.node.ObjectNode;

/**
 * Checks a parsed file against its JSON Schema (2020-12) and says where in the YAML each fault stands: an unknown key
 * at the key, a value of the wrong sort at the value, a missing key at the mapping that lacks it.
 */
final class SchemaCheck {

  private static final JsonNodeFactory JSON = JsonNodeFactory.instance;
  private static final SchemaRegistry REGISTRY =
      SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12);
  private static final Map<String, Schema> SCHEMAS = new ConcurrentHashMap<>();

  private final Schema schema;
  private final Problems problems;

  /**
   * A check against the named schema.
   *
   * @throws IllegalArgumentException if there is no such schema on the class path
   */
  SchemaCheck(String name, Problems problems) {
    this.schema = SCHEMAS.computeIfAbsent(name, SchemaCheck::load);
    this.problems = problems;
  }

  private static Schema load(String name) {
    String path = "/curriculum/schema/" + name + ".schema.json";
    try (InputStream in = SchemaCheck.class.getResourceAsStream(path)) {
      if (in == null) {
        throw new IllegalArgumentException("no schema " + path + " on the class path");
      }
      return REGISTRY.getSchema(in, InputFormat.JSON);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /**
   * Reports every fault of the part and returns what is left of it when the faulty pieces are left out; empty if
   * nothing that keeps the schema is left.
   */
  Optional<SoundPart> check(SoundPart part) {
    YamlNode root = part.root();
    Set<String> lostIds = new HashSet<>(part.lostIds());
    List<Error> errors = schema.validate(json(root));
    for (Error error : errors) {
      report(root, error);
    }
    // Leaving out one piece may leave its surroundings incomplete: repeat, each time with a smaller tree.
    while (!errors.isEmpty()) {
      Set<YamlNode> dropped = Collections.newSetFromMap(new IdentityHashMap<>());
      for (Error error : errors) {
        dropped.add(culprit(root, error));
      }
      if (dropped.contains(root)) {
        return Optional.empty();
      }
      dropped.forEach(node -> collectIds(node, lostIds));
      root = root.without(dropped);
      errors = schema.validate(json(root));
    }
    return Optional.of(new SoundPart(root, lostIds));
  }

  private void report(YamlNode root, Error error) {
    YamlNode at = resolve(root, error.getInstanceLocation());
    String property = error.getProperty();
    switch (error.getKeyword()) {
      case "additionalProperties" -> problems.add(at.keyAt(property),
          "unknown key '" + property + "'" + expectedKeys(error));
      case "required" -> problems.add(at.at(), "key '" + property + "' is missing here");
      case "type" -> problems.add(at.at(), "expected " + expectedTypes(error) + ", found " + at.kind());
      case "enum" -> problems.add(at.at(), "expected one of " + words(error.getSchemaNode()) + ", found '"
          + at.text() + "'");
      case "pattern" -> problems.add(at.at(), "'" + at.text() + "' has not the expected form "
          + error.getSchemaNode().asString());
      default -> problems.add(at.at(), error.getMessage());
    }
  }

  /** The keys that the schema has beside the rule that was broken. */
  private String expectedKeys(Error error) {
    JsonNode rules = schema.getSchemaNode();
    var fragment = error.getSchemaLocation().getFragment();
    for (int i = 0; i < fragment.getNameCount() - 1; i++) {
      Object step = fragment.getElement(i);
      rules = step instanceof Integer n ? rules.path(n) : rules.path(step.toString());
    }
    List<String> keys = List.copyOf(rules.path("properties").propertyNames());
    return keys.isEmpty() ? "" : "; expected one of " + String.join(", ", keys);
  }

  private static String expectedTypes(Error error) {
    JsonNode type = error.getSchemaNode();
    if (type == null) {
      return "another sort of value";
    }
    if (type.isArray()) {
      return String.join(" or ", type.valueStream().map(t -> typeInWords(t.asString())).toList());
    }
    return typeInWords(type.asString());
  }

  private static String typeInWords(String type) {
    return switch (type) {
      case "object" -> "a mapping";
      case "array" -> "a list";
      case "string" -> "text";
      case "number" -> "a number";
      case "integer" -> "a whole number";
      case "boolean" -> "true or false";
      default -> type;
    };
  }

  private static String words(JsonNode choices) {
    return choices == null ? "the schema's choices"
        : String.join(", ", choices.valueStream().map(JsonNode::asString).toList());
  }

  /** The smallest piece whose absence takes the error away. */
  private static YamlNode culprit(YamlNode root, Error error) {
    YamlNode at = resolve(root, error.getInstanceLocation());
    return error.getKeyword().equals("additionalProperties") ? at.get(error.getProperty()).orElse(at) : at;
  }

  private static YamlNode resolve(YamlNode root, NodePath path) {
    YamlNode node = root;
    for (int i = 0; i < path.getNameCount(); i++) {
      Object step = path.getElement(i);
      if (node.content() instanceof YamlNode.Sequence sequence) {
        node = sequence.items().get(step instanceof Integer n ? n : Integer.parseInt(step.toString()));
      } else {
        node = node.get(step.toString()).orElseThrow();
      }
    }
    return node;
  }

  private static void collectIds(YamlNode node, Set<String> ids) {
    if (node.content() instanceof YamlNode.Mapping mapping) {
      node.get("id").filter(YamlNode::isScalar).map(YamlNode::text).ifPresent(ids::add);
      mapping.entries().values().forEach(entry -> collectIds(entry.value(), ids));
    } else if (node.content() instanceof YamlNode.Sequence sequence) {
      sequence.items().forEach(item -> collectIds(item, ids));
    }
  }

  private static JsonNode json(YamlNode node) {
    if (node.content() instanceof YamlNode.Mapping mapping) {
      ObjectNode object = JSON.objectNode();
      mapping.entries().forEach((key, entry) -> object.set(key, json(entry.value())));
      return object;
    }
    if (node.content() instanceof YamlNode.Sequence sequence) {
      ArrayNode array = JSON.arrayNode();
      sequence.items().forEach(item -> array.add(json(item)));
      return array;
    }
    return json((YamlNode.Scalar) node.content());
  }

  private static JsonNode json(YamlNode.Scalar scalar) {
    return switch (scalar.type()) {
      case TEXT -> JSON.stringNode(scalar.text());
      case FLAG -> JSON.booleanNode(Boolean.parseBoolean(scalar.text()));
      case NOTHING -> JSON.nullNode();
      case NUMBER -> scalar.text().matches("-?[0-9]+")
          ? JSON.numberNode(new BigInteger(scalar.text()))
          : JSON.numberNode(new BigDecimal(scalar.text()));
    };
  }
}
