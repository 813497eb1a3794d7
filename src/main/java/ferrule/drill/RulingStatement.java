package ferrule.drill;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.ledger.LogEntry;
import ferrule.ledger.Statement;
import java.time.DateTimeException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/** What a ruling, or its undoing, says in the log. */
final class RulingStatement {

  /** The kind of a ruling; its id is the ruling's. */
  static final String RULED = "ruling";

  /** The kind of its undoing, which supersedes it. */
  static final String UNDONE = "ruling-undone";

  static final Set<String> KINDS = Set.of(RULED, UNDONE);

  private static final List<String> KEYS =
      List.of("glossary", "edition", "part", "typed", "phrase", "decision", "reason");

  private static final ObjectMapper JSON = new ObjectMapper();

  private RulingStatement() {}

  /** A ruling, signed at the time that the log gives. */
  static ObjectNode ruled(RuledAnswer ruling, String name, Instant signedAt) {
    ObjectNode json = Statement.begin(RULED, ruling.id(), ruling.ruledBy(), name, signedAt);
    List<String> words = words(ruling);
    for (int i = 0; i < KEYS.size(); i++) {
      json.put(KEYS.get(i), words.get(i));
    }
    json.put("at", ruling.ruledAt().toString());
    return json;
  }

  /** The undoing of a ruling, signed at the time that the log gives. */
  static ObjectNode undone(UUID id, UUID ruling, UUID by, String name, Instant at, Instant signedAt) {
    ObjectNode json = Statement.begin(UNDONE, id, by, name, signedAt);
    json.put("supersedes", ruling.toString());
    json.put("at", at.toString());
    return json;
  }

  /** The ruling that an entry of these kinds is about. */
  static UUID ruling(LogEntry entry) {
    return entry.kind().equals(RULED) ? entry.id() : entry.said().supersedes().orElse(entry.id());
  }

  /** Whether what is kept of a ruling is what an entry says of it. */
  static boolean agrees(LogEntry entry, Optional<RuledAnswer> kept, Optional<UUID> undoneBy) {
    try {
      JsonNode said = JSON.readTree(entry.body());
      UUID by = UUID.fromString(said.path("signed").path("id").asText());
      Instant at = Instant.parse(said.path("at").asText());
      if (entry.kind().equals(UNDONE)) {
        return undoneBy.equals(Optional.of(by)) && kept.flatMap(RuledAnswer::undoneAt).equals(Optional.of(at));
      }
      return kept.filter(r -> r.ruledBy().equals(by) && r.ruledAt().equals(at)).map(RulingStatement::words)
          .equals(Optional.of(KEYS.stream().map(key -> said.path(key).asText()).toList()));
    } catch (JsonProcessingException | IllegalArgumentException | DateTimeException e) {
      return false;
    }
  }

  private static List<String> words(RuledAnswer r) {
    return List.of(
        r.glossary(), r.edition(), r.ruling().part().value(), r.typed(), r.ruling().phrase(),
        RulingWord.of(r.ruling().decision()).word(), RulingWord.reason(r.ruling().decision()));
  }
}
