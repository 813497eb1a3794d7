package ferrule.ledger;

import static ferrule.store.jooq.Tables.HEAD_KEY;
import static ferrule.store.jooq.Tables.SIGNED_HEAD;

import ferrule.store.Database;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.SortedMap;
import org.jooq.Record;

/** The signed heads of the log, and the public keys that they were signed with. */
public final class HeadStore {

  private final Database database;
  private final LedgerStore ledger;
  private final HeadSigner signer;
  private final Clock clock;

  /** A store that signs with this signer, by the time of this clock. */
  public HeadStore(Database database, HeadSigner signer, Clock clock) {
    this.database = database;
    this.ledger = new LedgerStore(database);
    this.signer = signer;
    this.clock = clock;
  }

  /** The log's head as it is now, signed: anew, unless it was signed at this size before. */
  public SignedHead current() {
    TreeHead head = ledger.head();
    return find(head.size()).filter(signed -> signed.head().equals(head)).orElseGet(() -> sign(head));
  }

  private SignedHead sign(TreeHead head) {
    SignedHead signed = signer.sign(head, clock.instant());
    database.transact(dsl -> {
      dsl.insertInto(HEAD_KEY)
          .set(HEAD_KEY.ID, signer.key().id())
          .set(HEAD_KEY.PUBLIC_KEY, signer.key().publicKey())
          .set(HEAD_KEY.MADE_AT, signed.at())
          .onConflictDoNothing()
          .execute();
      dsl.insertInto(SIGNED_HEAD)
          .set(SIGNED_HEAD.SIZE, head.size())
          .set(SIGNED_HEAD.ROOT_HASH, head.root())
          .set(SIGNED_HEAD.SIGNED_AT, signed.at())
          .set(SIGNED_HEAD.KEY_ID, signed.keyId())
          .set(SIGNED_HEAD.SIGNATURE, signed.signature())
          .onConflictDoNothing()
          .execute();
    });
    return signed;
  }

  /** The head that was signed at this size, if one was. */
  public Optional<SignedHead> find(long size) {
    return database.dsl().selectFrom(SIGNED_HEAD).where(SIGNED_HEAD.SIZE.eq(size)).fetchOptional(HeadStore::toHead);
  }

  /** The last signed heads, the latest first. */
  public List<SignedHead> latest(int most) {
    return database.dsl().selectFrom(SIGNED_HEAD).orderBy(SIGNED_HEAD.SIZE.desc()).limit(most)
        .fetch(HeadStore::toHead);
  }

  /** Signs that these files were given out together with the log at this head. */
  public FileSeal seal(TreeHead head, SortedMap<String, String> files) {
    return signer.seal(head, clock.instant(), files);
  }

  /** Every signed head and key here. */
  public Witnesses witnesses() {
    return witnesses(database);
  }

  /** The key that heads are signed with here. */
  public HeadKey key() {
    return signer.key();
  }

  /** Every signed head and key in this database. */
  public static Witnesses witnesses(Database database) {
    List<SignedHead> signed = database.dsl().selectFrom(SIGNED_HEAD).orderBy(SIGNED_HEAD.SIZE).fetch(HeadStore::toHead);
    List<HeadKey> keys = database.dsl().selectFrom(HEAD_KEY).orderBy(HEAD_KEY.MADE_AT, HEAD_KEY.ID)
        .fetch(row -> new HeadKey(row.getId(), row.getPublicKey()));
    return new Witnesses(Optional.empty(), signed, keys);
  }

  private static SignedHead toHead(Record row) {
    return new SignedHead(
        new TreeHead(row.get(SIGNED_HEAD.SIZE), row.get(SIGNED_HEAD.ROOT_HASH)),
        row.get(SIGNED_HEAD.SIGNED_AT),
        row.get(SIGNED_HEAD.KEY_ID),
        row.get(SIGNED_HEAD.SIGNATURE));
  }
}
