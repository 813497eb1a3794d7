package ferrule.drill;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.ledger.Statement;
import java.time.Instant;
import java.util.UUID;

/** What a ruling, or its undoing, says in the log. */
final class RulingStatement {

  /** The kind of a ruling; its id is the ruling's. */
  static final String RULED = "ruling";

  /** The kind of its undoing, which supersedes it. */
  static final String UNDONE = "ruling-undone";

  private RulingStatement() {}

  /** A ruling, signed at the time that the log gives. */
  static ObjectNode ruled(RuledAnswer ruling, String name, Instant signedAt) {
    ObjectNode json = Statement.begin(RULED, ruling.id(), ruling.ruledBy(), name, signedAt);
    json.put("glossary", ruling.glossary());
    json.put("edition", ruling.edition());
    json.put("part", ruling.ruling().part().value());
    json.put("typed", ruling.typed());
    json.put("phrase", ruling.ruling().phrase());
    json.put("decision", RulingWord.of(ruling.ruling().decision()).word());
    json.put("reason", RulingWord.reason(ruling.ruling().decision()));
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
}
