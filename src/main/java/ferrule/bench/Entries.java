package ferrule.bench;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Collections;
import java.util.Map;
import java.util.TreeMap;

/**
 * What has been confirmed, chosen and typed for a grade so far, as it was typed: nothing in it need be complete or
 * right yet.
 *
 * @param cautionsConfirmed whether the task's cautions have been confirmed
 * @param levels chosen level by criterion
 * @param readings typed reading by criterion
 * @param lowers typed lower limit by criterion, where the instructor sets it
 * @param uppers typed upper limit by criterion, where the instructor sets it
 * @param note free words about the work; may be empty
 * @param reason why a record is corrected; empty for a first grade
 */
public record Entries(
    boolean cautionsConfirmed,
    Map<String, Integer> levels,
    Map<String, String> readings,
    Map<String, String> lowers,
    Map<String, String> uppers,
    String note,
    String reason) {

  /** The longest note and reason, in characters. */
  public static final int LONGEST_TEXT = 2_000;

  private static final int LONGEST_READING = 40;
  private static final ObjectMapper JSON = new ObjectMapper();

  /** Copies the maps, and takes out what cannot be kept in a record: control characters and overlong text. */
  public Entries {
    levels = Collections.unmodifiableMap(new TreeMap<>(levels));
    readings = cleaned(readings);
    lowers = cleaned(lowers);
    uppers = cleaned(uppers);
    note = cleaned(note, LONGEST_TEXT);
    reason = cleaned(reason, LONGEST_TEXT);
  }

  /** Nothing yet. */
  public static Entries none() {
    return new Entries(false, Map.of(), Map.of(), Map.of(), Map.of(), "", "");
  }

  private static Map<String, String> cleaned(Map<String, String> typed) {
    Map<String, String> kept = new TreeMap<>();
    typed.forEach((criterion, text) -> {
      String clean = cleaned(text, LONGEST_READING);
      if (!clean.isEmpty()) {
        kept.put(criterion, clean);
      }
    });
    return Collections.unmodifiableMap(kept);
  }

  private static String cleaned(String text, int longest) {
    // half of a surrogate pair cannot be written as UTF-8, and a database refuses the zero character
    String clean = text.replace("\r\n", "\n").replaceAll("[\\p{Cc}\\p{Cs}&&[^\\n\\t]]", "").strip();
    int end = Math.min(longest, clean.length());
    return clean.substring(0, end < clean.length() && Character.isHighSurrogate(clean.charAt(end - 1)) ? end - 1 : end);
  }

  /** The same with the cautions confirmed. */
  public Entries withCautionsConfirmed() {
    return new Entries(true, levels, readings, lowers, uppers, note, reason);
  }

  /** The same with every rating that is still open at the lowest level that passes: what is expected of the work. */
  public Entries withTheRestAsExpected(Task task) {
    Map<String, Integer> all = new TreeMap<>(levels);
    for (Criterion criterion : task.criteria()) {
      if (criterion instanceof Criterion.Rated rated) {
        all.putIfAbsent(rated.id(), rated.passLevel());
      }
    }
    return new Entries(cautionsConfirmed, all, readings, lowers, uppers, note, reason);
  }

  /** The entries as JSON, for a draft. */
  String toJson() {
    ObjectNode root = JSON.createObjectNode();
    root.put("cautionsConfirmed", cautionsConfirmed);
    root.set("levels", JSON.valueToTree(levels));
    root.set("readings", JSON.valueToTree(readings));
    root.set("lowers", JSON.valueToTree(lowers));
    root.set("uppers", JSON.valueToTree(uppers));
    root.put("note", note);
    root.put("reason", reason);
    return root.toString();
  }

  /** The entries that {@link #toJson} wrote. */
  static Entries fromJson(String json) {
    try {
      JsonNode root = JSON.readTree(json);
      Map<String, Integer> levels = new TreeMap<>();
      root.path("levels").fields().forEachRemaining(e -> levels.put(e.getKey(), e.getValue().intValue()));
      return new Entries(
          root.path("cautionsConfirmed").booleanValue(), levels, texts(root, "readings"), texts(root, "lowers"),
          texts(root, "uppers"), root.path("note").textValue(), root.path("reason").textValue());
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a draft's entries are not JSON", e);
    }
  }

  private static Map<String, String> texts(JsonNode root, String key) {
    Map<String, String> texts = new TreeMap<>();
    root.path(key).fields().forEachRemaining(e -> texts.put(e.getKey(), e.getValue().textValue()));
    return texts;
  }
}
