package ferrule.ledger;

import java.util.List;
import java.util.Optional;

/** Makes what whoever holds a copy of a record can check without the database: signed heads and proofs. */
public final class Proofs {

  private final LedgerStore ledger;
  private final HeadStore heads;

  /** Proofs from this log and its signed heads. */
  public Proofs(LedgerStore ledger, HeadStore heads) {
    this.ledger = ledger;
    this.heads = heads;
  }

  /** The key that heads are signed with. */
  public HeadKey key() {
    return heads.key();
  }

  /** The head of the log as it is now, signed. */
  public SignedHead head() {
    return heads.current();
  }

  /** The last heads that were signed, the latest first. */
  public List<SignedHead> heads(int most) {
    return heads.latest(most);
  }

  /** The head that was signed at this size, if one was. */
  public Optional<SignedHead> head(long size) {
    return heads.find(size);
  }

  /** The entry with the proof that it is in the log at this head. */
  public ProvenEntry prove(LogEntry entry, SignedHead head) {
    return new ProvenEntry(entry, ledger.inclusion(entry.number(), head.head().size()));
  }

  /** The same for these entries, and for the erasures that vouch for those that were redacted. */
  public List<ProvenEntry> prove(List<LogEntry> entries, SignedHead head) {
    return ledger.withErasures(entries).stream().map(entry -> prove(entry, head)).toList();
  }

  /** The proof that the log at the second head begins with the log at the first. */
  public ConsistencyProof prove(SignedHead first, SignedHead second) {
    return ledger.consistency(first.head().size(), second.head().size());
  }
}
