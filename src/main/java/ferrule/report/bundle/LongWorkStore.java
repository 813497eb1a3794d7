package ferrule.report.bundle;

import static ferrule.store.jooq.Tables.LONG_WORK;
import static ferrule.store.jooq.Tables.LONG_WORK_PIECE;

import ferrule.report.bundle.LongWork.State;
import ferrule.store.Database;
import java.io.IOException;
import java.io.OutputStream;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.exception.IntegrityConstraintViolationException;

/**
 * Bundles that were asked for, and what was made, in the database: every node sees the same, and any may do the work. A
 * node that takes one up takes one of a few slots, which a constraint gives to one at a time, and gives a sign of life
 * now and then. If it falls silent, another node may take the work up anew.
 */
public final class LongWorkStore {

  /** How many may run at once in an installation. */
  public static final int SLOTS = 2;
  /** How many one person may have waiting and running. */
  public static final int MOST_OPEN = 2;
  /** How long what was made is kept. */
  public static final Duration KEPT = Duration.ofHours(24);
  /** After so long without a sign of life a node is given up. */
  static final Duration SILENCE = Duration.ofMinutes(2);

  private static final int MOST_TRIES = 3;
  private static final int SHOWN = 20;
  private static final int PIECE = 1 << 18;
  private static final int LONGEST_FAILURE = 1_000;

  private final Database database;
  private final Clock clock;

  /** A store over this database that tells the time by this clock. */
  public LongWorkStore(Database database, Clock clock) {
    this.database = database;
    this.clock = clock;
  }

  private Instant now() {
    return clock.instant().truncatedTo(ChronoUnit.MILLIS);
  }

  /**
   * Asks for a bundle.
   *
   * @return its id; empty, with nothing asked, if this person has {@link #MOST_OPEN} open already
   */
  Optional<UUID> ask(Optional<UUID> cohort, LocalDate asOf, UUID by) {
    if (database.dsl().fetchCount(LONG_WORK, LONG_WORK.ASKED_BY.eq(by).and(isOpen())) >= MOST_OPEN) {
      return Optional.empty();
    }
    UUID id = UUID.randomUUID();
    database.dsl().insertInto(LONG_WORK)
        .set(LONG_WORK.ID, id)
        .set(LONG_WORK.COHORT_ID, cohort.orElse(null))
        .set(LONG_WORK.AS_OF, asOf)
        .set(LONG_WORK.ASKED_BY, by)
        .set(LONG_WORK.ASKED_AT, now())
        .set(LONG_WORK.STATE, State.WAITING.word())
        .execute();
    return Optional.of(id);
  }

  private static Condition isOpen() {
    return LONG_WORK.STATE.in(State.WAITING.word(), State.RUNNING.word());
  }

  /** What was asked for last, the latest first. */
  List<LongWork> latest() {
    return database.dsl().selectFrom(LONG_WORK).orderBy(LONG_WORK.ASKED_AT.desc(), LONG_WORK.ID).limit(SHOWN)
        .fetch(LongWorkStore::toWork);
  }

  /** The work of this id, if there is any. */
  Optional<LongWork> find(UUID id) {
    return database.dsl().selectFrom(LONG_WORK).where(LONG_WORK.ID.eq(id)).fetchOptional(LongWorkStore::toWork);
  }

  /** Asks that open work stops; what waits stops at once. False if it was not open. */
  boolean cancel(UUID id) {
    return database.inTransaction(dsl -> {
      int waiting = dsl.update(LONG_WORK)
          .set(LONG_WORK.STATE, State.CANCELLED.word()).set(LONG_WORK.ENDED_AT, now())
          .where(LONG_WORK.ID.eq(id)).and(LONG_WORK.STATE.eq(State.WAITING.word())).execute();
      int running = dsl.update(LONG_WORK).set(LONG_WORK.CANCEL_ASKED, true)
          .where(LONG_WORK.ID.eq(id)).and(LONG_WORK.STATE.eq(State.RUNNING.word())).execute();
      return waiting + running == 1;
    });
  }

  /** Takes up the work that waits longest, if any waits and a slot is free. */
  Optional<LongWork> take(UUID node) {
    Optional<UUID> next = database.dsl().select(LONG_WORK.ID).from(LONG_WORK)
        .where(LONG_WORK.STATE.eq(State.WAITING.word())).orderBy(LONG_WORK.ASKED_AT, LONG_WORK.ID).limit(1)
        .fetchOptional(LONG_WORK.ID);
    if (next.isEmpty()) {
      return Optional.empty();
    }
    for (int slot = 1; slot <= SLOTS; slot++) {
      if (take(next.get(), node, slot)) {
        return find(next.get());
      }
    }
    return Optional.empty();
  }

  private boolean take(UUID id, UUID node, int slot) {
    try {
      return database.dsl().update(LONG_WORK)
          .set(LONG_WORK.STATE, State.RUNNING.word())
          .set(LONG_WORK.SLOT, slot)
          .set(LONG_WORK.NODE, node)
          .set(LONG_WORK.SEEN_AT, now())
          .set(LONG_WORK.STARTED_AT, now())
          .set(LONG_WORK.TRIES, LONG_WORK.TRIES.plus(1))
          .where(LONG_WORK.ID.eq(id)).and(LONG_WORK.STATE.eq(State.WAITING.word()))
          .execute() == 1;
    } catch (IntegrityConstraintViolationException e) {
      return false; // the slot is taken
    }
  }

  /**
   * Gives a sign of life and says how far it is.
   *
   * @return whether to go on: it was not cancelled and is still this node's
   */
  boolean tell(UUID id, UUID node, String step, long done, long total) {
    return database.dsl().update(LONG_WORK)
        .set(LONG_WORK.SEEN_AT, now())
        .set(LONG_WORK.STEP, step.length() > 200 ? step.substring(0, 200) : step)
        .set(LONG_WORK.DONE, done)
        .set(LONG_WORK.TOTAL, total)
        .where(mine(id, node)).and(LONG_WORK.CANCEL_ASKED.isFalse())
        .execute() == 1;
  }

  private static Condition mine(UUID id, UUID node) {
    return LONG_WORK.ID.eq(id).and(LONG_WORK.NODE.eq(node)).and(LONG_WORK.STATE.eq(State.RUNNING.word()));
  }

  /** Keeps that it is done. */
  void finish(UUID id, UUID node, String fileName, long size) {
    database.dsl().update(LONG_WORK)
        .set(LONG_WORK.STATE, State.DONE.word()).setNull(LONG_WORK.SLOT).set(LONG_WORK.ENDED_AT, now())
        .set(LONG_WORK.FILE_NAME, fileName).set(LONG_WORK.FILE_SIZE, size)
        .where(mine(id, node)).execute();
  }

  /** Keeps that it failed, and throws away what there is of it. */
  void fail(UUID id, UUID node, String why) {
    end(id, node, State.FAILED, why.substring(0, Math.min(why.length(), LONGEST_FAILURE)));
  }

  /** Stops it, if it was cancelled; puts it back to wait otherwise, so that it is begun anew. */
  void stop(UUID id, UUID node) {
    boolean cancelled = database.dsl().fetchExists(LONG_WORK, LONG_WORK.ID.eq(id).and(LONG_WORK.CANCEL_ASKED.isTrue()));
    end(id, node, cancelled ? State.CANCELLED : State.WAITING, "");
  }

  private void end(UUID id, UUID node, State state, String failure) {
    database.transact(dsl -> {
      int mine = dsl.update(LONG_WORK)
          .set(LONG_WORK.STATE, state.word()).setNull(LONG_WORK.SLOT).setNull(LONG_WORK.NODE)
          .set(LONG_WORK.ENDED_AT, state == State.WAITING ? null : now())
          .set(LONG_WORK.FAILURE, failure).set(LONG_WORK.STEP, "").set(LONG_WORK.DONE, 0L).set(LONG_WORK.TOTAL, 0L)
          .where(mine(id, node)).execute();
      if (mine == 1) {
        dsl.deleteFrom(LONG_WORK_PIECE).where(LONG_WORK_PIECE.WORK_ID.eq(id)).execute();
      }
    });
  }

  /** Takes the work of nodes that fell silent from them, and removes what was kept long enough. */
  void tidy() {
    database.transact(dsl -> {
      for (Record row : dsl.select(LONG_WORK.ID, LONG_WORK.TRIES, LONG_WORK.CANCEL_ASKED).from(LONG_WORK)
          .where(LONG_WORK.STATE.eq(State.RUNNING.word())).and(LONG_WORK.SEEN_AT.lt(now().minus(SILENCE))).fetch()) {
        giveUp(dsl, row.get(LONG_WORK.ID), row.get(LONG_WORK.TRIES), row.get(LONG_WORK.CANCEL_ASKED));
      }
      List<UUID> old = dsl.select(LONG_WORK.ID).from(LONG_WORK).where(LONG_WORK.STATE.eq(State.DONE.word()))
          .and(LONG_WORK.ENDED_AT.lt(now().minus(KEPT))).fetch(LONG_WORK.ID);
      dsl.update(LONG_WORK).set(LONG_WORK.STATE, State.GONE.word()).where(LONG_WORK.ID.in(old)).execute();
      dsl.deleteFrom(LONG_WORK_PIECE).where(LONG_WORK_PIECE.WORK_ID.in(old)).execute();
    });
  }

  private void giveUp(DSLContext dsl, UUID id, int tries, boolean cancelled) {
    State state = cancelled ? State.CANCELLED : tries < MOST_TRIES ? State.WAITING : State.FAILED;
    int taken = dsl.update(LONG_WORK)
        .set(LONG_WORK.STATE, state.word()).setNull(LONG_WORK.SLOT).setNull(LONG_WORK.NODE)
        .set(LONG_WORK.ENDED_AT, state == State.WAITING ? null : now())
        .set(LONG_WORK.FAILURE, state == State.FAILED ? "The node that was at it stopped, " + tries + " times." : "")
        .where(LONG_WORK.ID.eq(id)).and(LONG_WORK.STATE.eq(State.RUNNING.word()))
        .and(LONG_WORK.SEEN_AT.lt(now().minus(SILENCE))).execute();
    if (taken == 1) {
      dsl.deleteFrom(LONG_WORK_PIECE).where(LONG_WORK_PIECE.WORK_ID.eq(id)).execute();
    }
  }

  /** A stream into the pieces of what is made; closing it keeps the last one. */
  Pieces pieces(UUID id) {
    database.dsl().deleteFrom(LONG_WORK_PIECE).where(LONG_WORK_PIECE.WORK_ID.eq(id)).execute();
    return new Pieces(id);
  }

  /** What is made, in pieces. */
  final class Pieces extends OutputStream {

    private final UUID id;
    private final byte[] piece = new byte[PIECE];
    private int filled;
    private int number;
    private long size;

    private Pieces(UUID id) {
      this.id = id;
    }

    /** How many bytes were written. */
    long size() {
      return size;
    }

    @Override
    public void write(int b) throws IOException {
      write(new byte[] {(byte) b}, 0, 1);
    }

    @Override
    public void write(byte[] bytes, int from, int length) {
      int at = from;
      for (int left = length; left > 0;) {
        int some = Math.min(left, PIECE - filled);
        System.arraycopy(bytes, at, piece, filled, some);
        filled += some;
        at += some;
        left -= some;
        if (filled == PIECE) {
          keep();
        }
      }
      size += length;
    }

    private void keep() {
      database.dsl().insertInto(LONG_WORK_PIECE)
          .set(LONG_WORK_PIECE.WORK_ID, id)
          .set(LONG_WORK_PIECE.NUMBER, number++)
          .set(LONG_WORK_PIECE.BYTES, Arrays.copyOf(piece, filled))
          .execute();
      filled = 0;
    }

    @Override
    public void close() {
      if (filled > 0) {
        keep();
      }
    }
  }

  /** Writes what was made. */
  void send(UUID id, OutputStream out) throws IOException {
    int number = 0;
    Optional<byte[]> piece = piece(id, number);
    while (piece.isPresent()) {
      out.write(piece.get());
      piece = piece(id, ++number);
    }
  }

  private Optional<byte[]> piece(UUID id, int number) {
    return database.dsl().select(LONG_WORK_PIECE.BYTES).from(LONG_WORK_PIECE)
        .where(LONG_WORK_PIECE.WORK_ID.eq(id)).and(LONG_WORK_PIECE.NUMBER.eq(number))
        .fetchOptional(LONG_WORK_PIECE.BYTES);
  }

  private static LongWork toWork(Record row) {
    return new LongWork(
        row.get(LONG_WORK.ID), Optional.ofNullable(row.get(LONG_WORK.COHORT_ID)), row.get(LONG_WORK.AS_OF),
        row.get(LONG_WORK.ASKED_BY), row.get(LONG_WORK.ASKED_AT), State.parse(row.get(LONG_WORK.STATE)),
        row.get(LONG_WORK.STEP), row.get(LONG_WORK.DONE), row.get(LONG_WORK.TOTAL), row.get(LONG_WORK.CANCEL_ASKED),
        Optional.ofNullable(row.get(LONG_WORK.ENDED_AT)), row.get(LONG_WORK.FAILURE), row.get(LONG_WORK.FILE_NAME),
        row.get(LONG_WORK.FILE_SIZE));
  }
}
