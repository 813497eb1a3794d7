package ferrule.ledger;

/**
 * An entry with the proof that it is in the log.
 *
 * @param entry the entry
 * @param proof that it is in the log at a signed head
 */
public record ProvenEntry(LogEntry entry, InclusionProof proof) {

  /** Checks that the proof is of this entry's place. */
  public ProvenEntry {
    if (entry.number() != proof.number()) {
      throw new IllegalArgumentException(
          "a proof of record " + entry.number() + " is expected; given: of record " + proof.number());
    }
  }
}
