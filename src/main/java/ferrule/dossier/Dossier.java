package ferrule.dossier;

import ferrule.competency.AreaView;
import ferrule.ledger.HeadKey;
import ferrule.ledger.ProofFile;
import ferrule.ledger.ProvenEntry;
import ferrule.ledger.SignedHead;
import ferrule.people.Person;
import java.time.Instant;
import java.util.List;

/**
 * An apprentice's whole record at one moment, with what proves it.
 *
 * @param apprentice whose it is
 * @param at the moment
 * @param programme title of the programme
 * @param edition of it by which the apprentice is judged
 * @param complete number of competencies that are complete
 * @param all number of competencies
 * @param areas the competencies with their evidence
 * @param lines every entry of the log about the apprentice, in the order of the log
 * @param proven what the file of proofs holds: these entries, and the erasures that vouch for their texts
 * @param head of the log at that moment, signed
 * @param key that signed it
 */
record Dossier(
    Person apprentice,
    Instant at,
    String programme,
    String edition,
    long complete,
    int all,
    List<AreaView> areas,
    List<Line> lines,
    List<ProvenEntry> proven,
    SignedHead head,
    HeadKey key) {

  /**
   * An entry of the log, in words.
   *
   * @param what it is about, such as the title of a task
   * @param detail the instrument and how the work stood, or the reason
   * @param takenBy number of the entry that took its place; 0 if it counts
   */
  record Line(
      ProvenEntry proven, String kind, String what, String detail, String signer, String when, long takenBy) {

    /** Its number in the log. */
    public long number() {
      return proven.entry().number();
    }

    /** The hash of its text. */
    public String leaf() {
      return proven.entry().leafHash();
    }

    /** The path of its proof. */
    public List<String> path() {
      return proven.proof().path();
    }

    /** The number of the erasure that took something out of its text; 0 if none did. */
    public long redactedBy() {
      return proven.entry().redactedBy().orElse(0L);
    }

    /** Whether nothing took its place. */
    public boolean counts() {
      return takenBy == 0;
    }
  }

  /** The file that proves each line without this server. */
  String proofFile() {
    return ProofFile.of(key, head, proven);
  }
}
