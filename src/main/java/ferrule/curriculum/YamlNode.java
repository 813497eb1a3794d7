package ferrule.curriculum;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * A parsed piece of YAML that knows where it stands: a mapping, a sequence or a scalar. Immutable.
 *
 * <p>Example: {@code concept.text("definition")}, and {@code concept.keyAt("definition")} to report on it.
 *
 * <p>The accessors throw {@link IllegalStateException}, with the position in its message, when the node is not of the
 * asked kind. Readers run only on nodes that passed a schema check, so that this is a fault of the program, not of the
 * file.
 */
public final class YamlNode {

  /** What a scalar stands for. */
  enum ScalarType {
    TEXT,
    NUMBER,
    FLAG,
    NOTHING
  }

  /** The three kinds of node. */
  sealed interface Content permits Scalar, Mapping, Sequence {}

  record Scalar(String text, ScalarType type) implements Content {}

  record Mapping(Map<String, Entry> entries) implements Content {
    Mapping {
      entries = Collections.unmodifiableMap(new LinkedHashMap<>(entries));
    }
  }

  record Entry(Position keyAt, YamlNode value) {}

  record Sequence(List<YamlNode> items) implements Content {
    Sequence {
      items = List.copyOf(items);
    }
  }

  private final Position at;
  private final Content content;

  YamlNode(Position at, Content content) {
    this.at = at;
    this.content = content;
  }

  /** Where the node begins. */
  public Position at() {
    return at;
  }

  /** Where a mapping's key stands; the mapping's own position if it has no such key. */
  public Position keyAt(String key) {
    Entry entry = mapping().entries().get(key);
    return entry == null ? at : entry.keyAt();
  }

  /** Whether a mapping has this key. */
  public boolean has(String key) {
    return mapping().entries().containsKey(key);
  }

  /** The value under a mapping's key, if there is one. */
  public Optional<YamlNode> get(String key) {
    return Optional.ofNullable(mapping().entries().get(key)).map(Entry::value);
  }

  /** The text under a key. */
  public String text(String key) {
    return require(key).text();
  }

  /** The text under a key, if there is one. */
  public Optional<String> optionalText(String key) {
    return get(key).map(YamlNode::text);
  }

  /** The number under a key. */
  public double number(String key) {
    return require(key).number();
  }

  /** The number under a key, if there is one. */
  public OptionalDouble optionalNumber(String key) {
    return get(key).map(n -> OptionalDouble.of(n.number())).orElseGet(OptionalDouble::empty);
  }

  /** The true or false under a key. */
  public boolean flag(String key, boolean otherwise) {
    return get(key).map(YamlNode::flag).orElse(otherwise);
  }

  /** The items of the sequence under a key; none if there is no such key. */
  public List<YamlNode> list(String key) {
    return get(key).map(YamlNode::items).orElse(List.of());
  }

  /** The texts of the sequence of scalars under a key; none if there is no such key. */
  public List<String> texts(String key) {
    return list(key).stream().map(YamlNode::text).toList();
  }

  /** The values of a mapping by key, in the order of the file. */
  public Map<String, YamlNode> entries() {
    Map<String, YamlNode> values = new LinkedHashMap<>();
    mapping().entries().forEach((key, entry) -> values.put(key, entry.value()));
    return Collections.unmodifiableMap(values);
  }

  /** The items of a sequence. */
  public List<YamlNode> items() {
    if (content instanceof Sequence sequence) {
      return sequence.items();
    }
    throw wrongKind("a list");
  }

  /** The text of a scalar, as it is written. */
  public String text() {
    return scalar().text();
  }

  /** Whether this is a single value, not a mapping or a sequence. */
  public boolean isScalar() {
    return content instanceof Scalar;
  }

  private double number() {
    if (scalar().type() != ScalarType.NUMBER) {
      throw wrongKind("a number");
    }
    return Double.parseDouble(scalar().text());
  }

  private boolean flag() {
    if (scalar().type() != ScalarType.FLAG) {
      throw wrongKind("true or false");
    }
    return Boolean.parseBoolean(scalar().text());
  }

  Content content() {
    return content;
  }

  /** A copy that leaves out these nodes, at any depth. */
  YamlNode without(Set<YamlNode> dropped) {
    if (content instanceof Mapping mapping) {
      Map<String, Entry> kept = new LinkedHashMap<>();
      mapping.entries().forEach((key, entry) -> {
        if (!dropped.contains(entry.value())) {
          kept.put(key, new Entry(entry.keyAt(), entry.value().without(dropped)));
        }
      });
      return new YamlNode(at, new Mapping(kept));
    }
    if (content instanceof Sequence sequence) {
      return new YamlNode(at, new Sequence(
          sequence.items().stream().filter(i -> !dropped.contains(i)).map(i -> i.without(dropped)).toList()));
    }
    return this;
  }

  private YamlNode require(String key) {
    return get(key).orElseThrow(() -> new IllegalStateException(at + ": expected a key '" + key + "'"));
  }

  private Mapping mapping() {
    if (content instanceof Mapping mapping) {
      return mapping;
    }
    throw wrongKind("a mapping");
  }

  private Scalar scalar() {
    if (content instanceof Scalar scalar) {
      return scalar;
    }
    throw wrongKind("a single value");
  }

  private IllegalStateException wrongKind(String expected) {
    return new IllegalStateException(at + ": expected " + expected + ", found " + kind());
  }

  /** What the node is, in words. */
  String kind() {
    if (content instanceof Mapping) {
      return "a mapping";
    }
    if (content instanceof Sequence) {
      return "a list";
    }
    return switch (scalar().type()) {
      case TEXT -> "text";
      case NUMBER -> "a number";
      case FLAG -> scalar().text();
      case NOTHING -> "nothing";
    };
  }

  @Override
  public String toString() {
    return kind() + " at " + at;
  }
}
