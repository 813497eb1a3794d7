package ferrule.ledger;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import java.util.UUID;

/** Invented statements that the tests of this package share. */
final class Samples {

  private Samples() {}

  /** A statement about somebody's work. */
  static ObjectNode work(UUID id, UUID subject, UUID by, String tag, Instant at) {
    ObjectNode json = Statement.begin("sign-off", id, by, "Invented Instructor", at);
    json.putObject("apprentice").put("id", subject.toString()).put("name", "Invented Apprentice");
    json.put("draft", UUID.randomUUID().toString());
    json.putObject("grade").put("tag", tag).put("note", "„Sound“, \ud83c\udfba").putArray("reasons").add("none");
    return json;
  }

  /** The same, as a statement. */
  static Statement said(UUID subject, UUID by, String tag, Instant at) {
    return Statement.of(work(UUID.randomUUID(), subject, by, tag, at));
  }

  /** A log of these statements. */
  static List<LogEntry> log(List<Statement> statements) {
    MerkleTree tree = new MerkleTree();
    return statements.stream().map(s -> LogEntry.append(tree, s)).toList();
  }
}
