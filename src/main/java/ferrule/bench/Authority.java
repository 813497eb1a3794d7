package ferrule.bench;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.procedure.Procedure;
import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;

/**
 * What an instructor may sign: in each area of bench work the tasks up to a level, and nothing in an area that is not
 * named.
 *
 * @param upTo the highest level by area
 */
public record Authority(Map<Procedure.Area, Task.Level> upTo) {

  private static final ObjectMapper JSON = new ObjectMapper();

  /** Copies the map. */
  public Authority {
    EnumMap<Procedure.Area, Task.Level> copy = new EnumMap<>(Procedure.Area.class);
    copy.putAll(upTo);
    upTo = Collections.unmodifiableMap(copy);
  }

  /** Everything: what an instructor may sign as long as nobody has said otherwise. */
  public static Authority everything() {
    Map<Procedure.Area, Task.Level> all = new EnumMap<>(Procedure.Area.class);
    for (Procedure.Area area : Procedure.Area.values()) {
      all.put(area, Task.Level.ADVANCED);
    }
    return new Authority(all);
  }

  /** Whether it reaches to this task. */
  public boolean covers(Task task) {
    return Optional.ofNullable(upTo.get(task.area())).filter(level -> level.compareTo(task.level()) >= 0).isPresent();
  }

  /** Why a task is outside it, in a sentence; only for one that it does not cover. */
  public String refusalOf(Task task) {
    String area = "“" + task.area().title() + "”";
    String reach =
        upTo.containsKey(task.area())
            ? "Your authority in " + area + " ends at basic work, and this is advanced"
            : "You have no authority in " + area;
    return reach + ". The coordinator gives authority; another instructor can sign this.";
  }

  /** It as JSON, for its table. */
  String toJson() {
    ObjectNode root = JSON.createObjectNode();
    upTo.forEach((area, level) -> root.put(area.word(), level.word()));
    return root.toString();
  }

  /** The authority that {@link #toJson} wrote. */
  static Authority fromJson(String json) {
    try {
      JsonNode root = JSON.readTree(json);
      Map<Procedure.Area, Task.Level> upTo = new EnumMap<>(Procedure.Area.class);
      root.fields().forEachRemaining(
          e -> upTo.put(Procedure.Area.parse(e.getKey()), Task.Level.parse(e.getValue().textValue())));
      return new Authority(upTo);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("an authority is not JSON", e);
    }
  }
}
