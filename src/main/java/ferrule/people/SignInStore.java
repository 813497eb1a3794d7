package ferrule.people;

import static ferrule.store.jooq.Tables.GUESS_LEVEL;
import static ferrule.store.jooq.Tables.KNOWN_BROWSER;
import static ferrule.store.jooq.Tables.PASSWORD_WANTED;
import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.SIGN_IN_PUZZLE;

import ferrule.store.Database;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jooq.DSLContext;
import org.jooq.Record;

/**
 * Names and passwords at the door, and the count of guesses that {@link SignInPace} sets the limits of. A name that
 * nobody has is counted and answered like any other.
 */
public final class SignInStore {

  private static final String ALL = "all";
  private static final Duration PUZZLE = Duration.ofMinutes(15);

  private final Database database;
  private final Clock clock;
  private final SecondStepStore secondSteps;

  SignInStore(Database database, Clock clock, SecondStepStore secondSteps) {
    this.database = database;
    this.clock = clock;
    this.secondSteps = secondSteps;
  }

  /**
   * A try to sign in.
   *
   * @param name as it was typed
   * @param password as it was typed
   * @param browser the token of {@link #remember}, if this browser has one
   * @param solution of a puzzle, if one was worked out
   */
  public record Try(String name, String password, Optional<String> browser, Optional<Puzzle.Solution> solution) {

    /** In a browser that nobody has used before. */
    public static Try of(String name, String password) {
      return new Try(name, password, Optional.empty(), Optional.empty());
    }
  }

  /** Judges a try, or asks for something first. */
  public Entry enter(Try given) {
    String name = PeopleStore.folded(given.name());
    Record row = database.dsl().selectFrom(PERSON).where(PERSON.SIGN_IN_NAME.eq(name)).fetchOne();
    Optional<String> known = given.browser().map(Secrets::digest).filter(hash -> row != null && isKnown(hash, row));
    if (known.isEmpty()) {
      Optional<Entry> first = charge(subject("name", name), given.solution());
      if (first.isPresent()) {
        return first.get();
      }
    }
    String hash = row == null ? null : row.get(PERSON.PASSWORD_HASH);
    boolean right = hash == null ? Secrets.matchesNobody(given.password()) : Secrets.matches(given.password(), hash);
    if (!right || row.get(PERSON.LEFT_ON) != null) {
      known.ifPresent(browser -> countKnown(browser, row.get(PERSON.ID)));
      return new Entry.Wrong();
    }
    if (known.isEmpty()) {
      refund(subject("name", name));
    }
    Person person = PeopleStore.toPerson(row);
    return new Entry.Right(person, secondSteps.isOn(person.id()));
  }

  private boolean isKnown(String browserHash, Record person) {
    return database.dsl().fetchExists(
        KNOWN_BROWSER,
        KNOWN_BROWSER.TOKEN_HASH.eq(browserHash)
            .and(KNOWN_BROWSER.PERSON_ID.eq(person.get(PERSON.ID)))
            .and(KNOWN_BROWSER.FAILURES.lt(SignInPace.KNOWN_BROWSER)));
  }

  private void countKnown(String browserHash, UUID personId) {
    database.dsl().update(KNOWN_BROWSER).set(KNOWN_BROWSER.FAILURES, KNOWN_BROWSER.FAILURES.plus(1))
        .where(KNOWN_BROWSER.TOKEN_HASH.eq(browserHash)).and(KNOWN_BROWSER.PERSON_ID.eq(personId)).execute();
  }

  /**
   * Notes that a person has signed in in this browser, and forgets what has had its time.
   *
   * @param browser the browser's token, if it has one already
   * @return its token from now on, for a cookie that stays
   */
  public String remember(UUID personId, Optional<String> browser) {
    String token = browser.filter(known -> known.length() >= 40).orElseGet(Secrets::token);
    database.transact(
        dsl -> {
          dsl.insertInto(KNOWN_BROWSER)
              .set(KNOWN_BROWSER.TOKEN_HASH, Secrets.digest(token))
              .set(KNOWN_BROWSER.PERSON_ID, personId)
              .set(KNOWN_BROWSER.USED_AT, clock.instant())
              .onConflictDoNothing()
              .execute();
          dsl.update(KNOWN_BROWSER).set(KNOWN_BROWSER.FAILURES, 0).set(KNOWN_BROWSER.USED_AT, clock.instant())
              .where(KNOWN_BROWSER.TOKEN_HASH.eq(Secrets.digest(token)))
              .and(KNOWN_BROWSER.PERSON_ID.eq(personId)).execute();
        });
    tidy();
    return token;
  }

  // counted before the password is looked at and taken back if it was right: guesses made at once are all counted
  private Optional<Entry> charge(String subject, Optional<Puzzle.Solution> solution) {
    return database.inTransaction(
        dsl -> {
          Instant now = clock.instant();
          long forAll = level(dsl, subject(ALL, ""), now);
          long forName = level(dsl, subject, now);
          if (forName >= SignInPace.MOST) {
            return Optional.of(new Entry.NotFromHere(now.plus(SignInPace.LEAK.multipliedBy(forName - SignInPace.MOST + 1))));
          }
          int bits = SignInPace.bits(forName, forAll);
          if (bits > 0 && solution.filter(s -> take(dsl, s, bits, now)).isEmpty()) {
            return Optional.of(new Entry.WorkFirst(puzzle(dsl, bits, now)));
          }
          add(dsl, subject(ALL, ""), now, 1);
          add(dsl, subject, now, 1);
          return Optional.empty();
        });
  }

  private void refund(String subject) {
    database.transact(
        dsl -> {
          Instant now = clock.instant();
          // always in this order, so that two never wait for each other
          level(dsl, subject(ALL, ""), now);
          level(dsl, subject, now);
          add(dsl, subject(ALL, ""), now, -1);
          add(dsl, subject, now, -1);
        });
  }

  /** The guesses counted, with the row held until the transaction ends. */
  private static long level(DSLContext dsl, String subject, Instant now) {
    dsl.insertInto(GUESS_LEVEL).set(GUESS_LEVEL.SUBJECT, subject).set(GUESS_LEVEL.EMPTIES_AT, now)
        .onConflictDoNothing().execute();
    Instant empties =
        dsl.selectFrom(GUESS_LEVEL).where(GUESS_LEVEL.SUBJECT.eq(subject)).forUpdate().fetchSingle().getEmptiesAt();
    long seconds = Math.max(0, now.until(empties, ChronoUnit.SECONDS));
    // a guess counts in full until all of its time is over
    return -Math.floorDiv(-seconds, SignInPace.LEAK.toSeconds());
  }

  private static void add(DSLContext dsl, String subject, Instant now, int guesses) {
    Instant empties =
        dsl.selectFrom(GUESS_LEVEL).where(GUESS_LEVEL.SUBJECT.eq(subject)).fetchSingle().getEmptiesAt();
    Instant from = empties.isBefore(now) ? now : empties;
    dsl.update(GUESS_LEVEL).set(GUESS_LEVEL.EMPTIES_AT, from.plus(SignInPace.LEAK.multipliedBy(guesses)))
        .where(GUESS_LEVEL.SUBJECT.eq(subject)).execute();
  }

  private static String subject(String kind, String what) {
    return Secrets.digest(kind + ":" + what);
  }

  private Puzzle puzzle(DSLContext dsl, int bits, Instant now) {
    Puzzle puzzle = new Puzzle(Secrets.token(), bits);
    dsl.insertInto(SIGN_IN_PUZZLE)
        .set(SIGN_IN_PUZZLE.ID, puzzle.id())
        .set(SIGN_IN_PUZZLE.BITS, bits)
        .set(SIGN_IN_PUZZLE.EXPIRES_AT, now.plus(PUZZLE))
        .execute();
    dsl.deleteFrom(SIGN_IN_PUZZLE).where(SIGN_IN_PUZZLE.EXPIRES_AT.lt(now)).execute();
    return puzzle;
  }

  /** Whether the puzzle is one of ours, unused, hard enough and solved; it is used up in any case. */
  private static boolean take(DSLContext dsl, Puzzle.Solution solution, int bits, Instant now) {
    Integer made = dsl.select(SIGN_IN_PUZZLE.BITS).from(SIGN_IN_PUZZLE)
        .where(SIGN_IN_PUZZLE.ID.eq(solution.id())).and(SIGN_IN_PUZZLE.EXPIRES_AT.gt(now))
        .fetchOne(SIGN_IN_PUZZLE.BITS);
    int used = dsl.deleteFrom(SIGN_IN_PUZZLE).where(SIGN_IN_PUZZLE.ID.eq(solution.id())).execute();
    return made != null && used == 1 && made >= bits && new Puzzle(solution.id(), made).isSolvedBy(solution.number());
  }

  /**
   * Judges a one-time code or a recovery code of somebody whose password was right.
   *
   * @param browser the browser's token, if it has one
   */
  public CodeEntry enterCode(UUID personId, String code, Optional<String> browser) {
    Record row = database.dsl().selectFrom(PERSON).where(PERSON.ID.eq(personId)).fetchSingle();
    String place = browser.map(Secrets::digest).filter(hash -> isKnown(hash, row)).orElse("");
    String subject = subject("code", personId + place);
    Optional<Instant> full = chargeCode(subject);
    if (full.isPresent()) {
      return new CodeEntry.Wait(full.get());
    }
    if (!secondSteps.take(personId, code)) {
      return new CodeEntry.Wrong();
    }
    database.dsl().deleteFrom(GUESS_LEVEL).where(GUESS_LEVEL.SUBJECT.eq(subject)).execute();
    return new CodeEntry.Right();
  }

  /** Judges the password of somebody who is signed in, before they change how they sign in. */
  public CodeEntry proveAgain(UUID personId, String password) {
    String subject = subject("again", personId.toString());
    Optional<Instant> full = chargeCode(subject);
    if (full.isPresent()) {
      return new CodeEntry.Wait(full.get());
    }
    String hash = database.dsl().select(PERSON.PASSWORD_HASH).from(PERSON).where(PERSON.ID.eq(personId))
        .fetchOne(PERSON.PASSWORD_HASH);
    if (hash == null || !Secrets.matches(password, hash)) {
      return new CodeEntry.Wrong();
    }
    database.dsl().deleteFrom(GUESS_LEVEL).where(GUESS_LEVEL.SUBJECT.eq(subject)).execute();
    return new CodeEntry.Right();
  }

  private Optional<Instant> chargeCode(String subject) {
    return database.inTransaction(
        dsl -> {
          Instant now = clock.instant();
          long level = level(dsl, subject, now);
          if (level >= SignInPace.CODES) {
            return Optional.of(now.plus(SignInPace.LEAK.multipliedBy(level - SignInPace.CODES + 1)));
          }
          add(dsl, subject, now, 1);
          return Optional.empty();
        });
  }

  /** What came of a code. */
  public sealed interface CodeEntry {
    /** It is right. */
    record Right() implements CodeEntry {}

    /** It is wrong. */
    record Wrong() implements CodeEntry {}

    /** Too many were wrong: none is looked at until then. */
    record Wait(Instant until) implements CodeEntry {}
  }

  private void tidy() {
    Instant now = clock.instant();
    database.dsl().deleteFrom(GUESS_LEVEL).where(GUESS_LEVEL.EMPTIES_AT.lt(now)).execute();
    database.dsl().deleteFrom(KNOWN_BROWSER).where(KNOWN_BROWSER.USED_AT.lt(now.minus(Duration.ofDays(400)))).execute();
  }

  /**
   * Notes that whoever has this name asks for a new password, so that the coordinator sees it; for a name that nobody
   * has it does nothing, and neither tells which it was.
   */
  public void wantPassword(String name) {
    database.transact(
        dsl ->
            dsl.select(PERSON.ID).from(PERSON)
                .where(PERSON.SIGN_IN_NAME.eq(PeopleStore.folded(name))).and(PERSON.LEFT_ON.isNull())
                .fetchOptional(PERSON.ID)
                .ifPresent(
                    id ->
                        dsl.insertInto(PASSWORD_WANTED)
                            .set(PASSWORD_WANTED.PERSON_ID, id)
                            .set(PASSWORD_WANTED.ASKED_AT, clock.instant())
                            .onConflictDoNothing()
                            .execute()));
  }

  /** Who asks for a new password, and since when. */
  public Map<UUID, Instant> passwordsWanted() {
    return database.dsl().selectFrom(PASSWORD_WANTED)
        .fetchMap(PASSWORD_WANTED.PERSON_ID, PASSWORD_WANTED.ASKED_AT);
  }
}
