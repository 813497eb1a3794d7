package ferrule.competency;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.ledger.Statement;
import ferrule.people.Person;
import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

/** What the log is told about the programme: which cohort is judged by which edition, and what prior learning counts. */
final class ProgrammeStatement {

  private ProgrammeStatement() {}

  /** A cohort is judged by another edition from now on. */
  static ObjectNode moved(Move move, String cohort, String from, Instant at) {
    ObjectNode json = Statement.begin("programme-move", move.id(), move.movedBy(), move.movedByName(), at);
    json.putObject("cohort").put("id", move.cohort().toString()).put("title", cohort);
    return json.put("from", from).put("edition", move.edition()).put("reason", move.reason());
  }

  /** Prior learning stands in for a competency. */
  static ObjectNode granted(Equivalence grant, String apprentice, Instant at) {
    ObjectNode json = Statement.begin("equivalence", grant.id(), grant.grantedBy(), grant.grantedByName(), at);
    json.putObject("apprentice").put("id", grant.apprentice().toString()).put("name", apprentice);
    json.put("competency", grant.competency()).put("reason", grant.reason());
    grant.until().map(LocalDate::toString).ifPresent(day -> json.put("until", day));
    return json;
  }

  /** A grant counts no more. */
  static ObjectNode withdrawn(Equivalence grant, UUID id, String apprentice, String reason, Person by, Instant at) {
    ObjectNode json = Statement.begin("equivalence-withdrawal", id, by.id(), by.fullName(), at);
    json.putObject("apprentice").put("id", grant.apprentice().toString()).put("name", apprentice);
    return json.put("supersedes", grant.id().toString()).put("competency", grant.competency()).put("reason", reason);
  }
}
