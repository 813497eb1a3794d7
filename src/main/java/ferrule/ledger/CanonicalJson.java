package ferrule.ledger;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.erdtman.jcs.JsonCanonicalizer;
import org.erdtman.jcs.NumberToJSON;

/**
 * The canonical form of JSON that RFC 8785 defines, in which equal values are equal bytes: keys in the order of their
 * UTF-16 code units, no white space, numbers as ECMAScript writes them, only the escapes that must be.
 */
public final class CanonicalJson {

  private static final double LARGEST_WHOLE = 9_007_199_254_740_991.0; // 2^53 - 1

  private CanonicalJson() {}

  /**
   * The canonical text of a value.
   *
   * @throws IllegalArgumentException if it holds a number that a double cannot hold or half of a surrogate pair
   */
  public static String of(JsonNode value) {
    StringBuilder out = new StringBuilder(1024);
    write(value, out);
    return out.toString();
  }

  /**
   * The canonical text of what a text states.
   *
   * @throws IllegalArgumentException if it is not JSON
   */
  static String canonical(String json) {
    try {
      return new JsonCanonicalizer(json).getEncodedString();
    } catch (IOException | RuntimeException e) {
      // the canonicalizer's own parser throws runtime exceptions for some broken texts
      throw new IllegalArgumentException("not a JSON text: " + e.getMessage(), e);
    }
  }

  private static void write(JsonNode value, StringBuilder out) {
    switch (value.getNodeType()) {
      case OBJECT -> writeObject((ObjectNode) value, out);
      case ARRAY -> {
        char before = '[';
        for (JsonNode item : value) {
          out.append(before);
          write(item, out);
          before = ',';
        }
        out.append(before == '[' ? "[]" : "]");
      }
      case STRING -> writeText(value.textValue(), out);
      case NUMBER -> writeNumber(value, out);
      case BOOLEAN -> out.append(value.booleanValue());
      case NULL -> out.append("null");
      default -> throw new IllegalArgumentException("not JSON: " + value.getNodeType());
    }
  }

  private static void writeObject(ObjectNode value, StringBuilder out) {
    List<String> keys = new ArrayList<>(value.size());
    value.fieldNames().forEachRemaining(keys::add);
    Collections.sort(keys); // a String's own order is that of its UTF-16 code units (RFC 8785, 3.2.3)
    char before = '{';
    for (String key : keys) {
      out.append(before);
      writeText(key, out);
      out.append(':');
      write(value.get(key), out);
      before = ',';
    }
    out.append(before == '{' ? "{}" : "}");
  }

  private static void writeNumber(JsonNode value, StringBuilder out) {
    double number = value.doubleValue();
    if (value.isIntegralNumber() && Math.abs(number) <= LARGEST_WHOLE) {
      out.append(value.longValue());
      return;
    }
    try {
      out.append(NumberToJSON.serializeNumber(number));
    } catch (IOException e) {
      throw new IllegalArgumentException("JSON has no number " + value, e);
    }
  }

  private static void writeText(String text, StringBuilder out) {
    out.append('"');
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c >= ' ' && c != '"' && c != '\\' && !Character.isSurrogate(c)) {
        out.append(c);
      } else if (Character.isSurrogate(c)) {
        i = writePair(text, i, out);
      } else {
        writeEscaped(c, out);
      }
    }
    out.append('"');
  }

  /** Writes both halves and returns the position of the second. */
  private static int writePair(String text, int at, StringBuilder out) {
    if (at + 1 == text.length() || !Character.isSurrogatePair(text.charAt(at), text.charAt(at + 1))) {
      throw new IllegalArgumentException("half of a surrogate pair at " + at + " of a text (RFC 8785, 3.2.2.2)");
    }
    out.append(text, at, at + 2);
    return at + 1;
  }

  private static void writeEscaped(char c, StringBuilder out) {
    switch (c) {
      case '\b' -> out.append("\\b");
      case '\t' -> out.append("\\t");
      case '\n' -> out.append("\\n");
      case '\f' -> out.append("\\f");
      case '\r' -> out.append("\\r");
      case '"', '\\' -> out.append('\\').append(c);
      default -> out.append("\\u00").append(Character.forDigit(c >> 4, 16)).append(Character.forDigit(c & 15, 16));
    }
  }
}
