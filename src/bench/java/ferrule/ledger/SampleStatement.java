package ferrule.ledger;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.people.Person;
import java.time.Instant;
import java.util.UUID;

/** An invented statement that measurements are made with. */
final class SampleStatement {

  private SampleStatement() {}

  /** A sign-off of the size that the demo's have: six criteria, one of them measured. */
  static ObjectNode signOff(
      UUID id, UUID draft, Person apprentice, Person instructor, Instant at) {
    ObjectNode json = Statement.begin("sign-off", id, instructor.id(), instructor.fullName(), at);
    json.put("edition", "0123456789ab").put("draft", draft.toString());
    json.putObject("apprentice").put("id", apprentice.id().toString()).put("name", apprentice.fullName());
    ObjectNode grade = json.putObject("grade");
    grade.putObject("task").put("id", "water-key-cork-or-pad").put("title", "Replace a water key cork or pad");
    grade.putObject("instrument").put("kind", "trumpet").put("tag", "T-07");
    grade.putArray("cautions").add("eye-protection").add("hand-tools");
    ArrayNode findings = grade.putArray("findings");
    for (int i = 0; i < 5; i++) {
      ObjectNode finding = findings.addObject();
      finding.put("criterion", "criterion-" + i).put("title", "How well part " + i + " of the work was done");
      finding.put("critical", i == 0).put("weight", 2);
      finding.putObject("rated").put("level", 3).put("levels", 4).put("pass", 2)
          .put("wording", "The face is clean, flat and square to the nipple all around, without a “shoulder”.");
    }
    ObjectNode measured = findings.addObject().put("criterion", "opening").put("title", "Opening of the key");
    measured.put("critical", false).put("weight", 1);
    ObjectNode m = measured.putObject("measured").put("quantity", "length").put("unit", "mm").put("gauge", "ruler");
    m.putObject("reading").put("value", "2.5").put("unit", "mm");
    m.putObject("limits").put("source", "the instructor's own").put("lower", "2").put("upper", "4.0");
    m.put("uncertainty", "0.25").put("guard", "1").put("verdict", "conforming");
    grade.put("note", "Nipple dressed lightly.").put("standing", "sound").putArray("reasons");
    return json;
  }
}
