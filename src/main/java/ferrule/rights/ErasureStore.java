package ferrule.rights;

import static ferrule.store.jooq.Tables.PERSON;

import com.fasterxml.jackson.databind.node.ObjectNode;
import ferrule.ledger.CanonicalJson;
import ferrule.ledger.Erasure;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogEntry;
import ferrule.ledger.Statement;
import ferrule.people.NewEvidenceStore;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Field;
import org.jooq.impl.DSL;

/**
 * Erases apprentices: takes away who somebody was, and keeps what they did under a pseudonym. {@link ErasureTables} says
 * what becomes of each column. All of it is one transaction, at whose end the log gets an entry that vouches for the texts
 * that were redacted.
 */
public final class ErasureStore {

  /** The most characters that a reason may have. */
  public static final int LONGEST_REASON = 1_000;

  // an erasure vouches for others' texts; a ruling is about a word, and its table repeats it
  private static final Set<String> LEFT_ALONE = Set.of(Erasure.KIND, "ruling", "ruling-undone");
  private static final String LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ";
  private static final int LENGTH = 6;
  private static final SecureRandom RANDOM = new SecureRandom();

  private final Database database;
  private final LedgerStore ledger;
  private final Clock clock;

  /** A store over this database and its log. */
  public ErasureStore(Database database, LedgerStore ledger, Clock clock) {
    this.database = database;
    this.ledger = ledger;
    this.clock = clock;
  }

  /**
   * What was done.
   *
   * @param pseudonym under which the person stands since
   * @param number of the erasure in the log
   * @param redacted how many signed texts were redacted
   */
  public record Erased(String pseudonym, long number, int redacted) {}

  /** Why somebody cannot be erased; empty if they can. */
  public Optional<String> refusal(Person who) {
    if (who.role() != Role.APPRENTICE) {
      return Optional.of("Only apprentices can be erased: whoever signed the records of others must stay known.");
    }
    return isErased(database.dsl(), who.id()) ? Optional.of(who.fullName() + " has been erased already.") : Optional.empty();
  }

  /**
   * Erases somebody.
   *
   * @param by who does so
   * @param reason why; the person's name is taken out of it
   * @param today on which they leave, if they have not left yet
   * @throws IllegalStateException if they cannot be erased; the message says why
   */
  public Erased erase(Person who, Person by, String reason, LocalDate today) {
    Names names = new Names(who.fullName(), who.signInName());
    long searched = ledger.head().size();
    Set<Long> found = ledger.withWords(names.words());
    return database.inTransaction(dsl -> {
      // two who erase the same person take turns, and the second is refused
      dsl.fetch("select id from person where id = ? for update", who.id());
      if (isErased(dsl, who.id())) {
        throw new IllegalStateException(who.fullName() + " has been erased already.");
      }
      if (who.isPresent()) {
        PeopleStore.leave(dsl, who.id(), today);
      }
      Work work = new Work(dsl, who, names, code(), clock.instant());
      work.clearRows();
      work.search();
      work.rename();
      forgetBundles(dsl);
      return work.redactLog(by, reason, found, searched);
    });
  }

  private static boolean isErased(DSLContext dsl, UUID who) {
    return dsl.fetchExists(DSL.selectOne().from("person where id = ? and erased_at is not null", who));
  }

  private static String code() {
    return RANDOM.ints(LENGTH, 0, LETTERS.length()).mapToObj(i -> "" + LETTERS.charAt(i)).collect(Collectors.joining());
  }

  /** Bundles that were made hold the name; one that is being made is cancelled, because it may. */
  private static void forgetBundles(DSLContext dsl) {
    dsl.execute("delete from long_work_piece where work_id in (select id from long_work where state = 'done')");
    dsl.execute("update long_work set state = 'gone' where state = 'done'");
    dsl.execute("update long_work set cancel_asked = true where state = 'running'");
  }

  /** One erasure in the making. */
  private final class Work {

    private final DSLContext dsl;
    private final Person who;
    private final Names names;
    private final String code;
    private final String pseudonym;
    private final Redaction redaction;
    private final Instant now;

    Work(DSLContext dsl, Person who, Names names, String code, Instant now) {
      this.dsl = dsl;
      this.who = who;
      this.names = names;
      this.code = code;
      this.pseudonym = "Erased person " + code;
      this.redaction = new Redaction(names, pseudonym);
      this.now = now;
    }

    void clearRows() {
      for (ErasureTables.Gone rows : ErasureTables.GONE) {
        dsl.execute("delete from " + rows.table() + " where " + rows.where(), who.id());
      }
      for (ErasureTables.Emptied column : ErasureTables.EMPTIED) {
        dsl.execute("update " + column.table() + " set " + column.column() + " = ? where " + column.column()
            + " <> '' and " + column.where(), column.left(), who.id());
      }
    }

    void search() {
      for (ErasureTables.Searched in : ErasureTables.SEARCHED) {
        Condition theirs = DSL.condition(in.own(), who.id());
        change(in, theirs, in.json() ? text -> CanonicalJson.of(redaction.own(text)) : redaction::inWords);
        if (in.others()) {
          change(in, theirs.not().and(holdsName(DSL.field(in.column(), String.class))),
              in.json() ? text -> CanonicalJson.of(redaction.others(text)) : redaction::inWords);
        }
      }
    }

    private Condition holdsName(Field<String> column) {
      return names.words().isEmpty() ? DSL.falseCondition()
          : DSL.or(names.words().stream()
              .map(all -> DSL.and(all.stream().map(column::containsIgnoreCase).toList())).toList());
    }

    private void change(ErasureTables.Searched in, Condition which, UnaryOperator<String> change) {
      Field<String> column = DSL.field(in.column(), String.class);
      for (String text : new HashSet<>(
          dsl.select(column).from(in.table()).where(which).and(column.isNotNull()).fetch(column))) {
        String changed = change.apply(text);
        if (!changed.equals(text)) {
          dsl.execute("update " + in.table() + " set " + in.column() + " = {0}" + in.with() + " where " + in.column()
              + " = {1} and {2}", DSL.val(changed), DSL.val(text), which);
        }
      }
    }

    void rename() {
      dsl.update(PERSON)
          .set(PERSON.FULL_NAME, pseudonym)
          .set(PERSON.SIGN_IN_NAME, PeopleStore.folded("erased-" + code))
          .setNull(PERSON.PASSWORD_HASH)
          .setNull(PERSON.PIN_HASH)
          .setNull(PERSON.PIN_LOCKED_UNTIL)
          .set(PERSON.PIN_FAILURES, 0)
          .set(PERSON.ERASED_AT, now)
          .where(PERSON.ID.eq(who.id()))
          .execute();
      NewEvidenceStore.note(dsl, who.id(), now);
    }

    // last: whoever signs waits from here
    Erased redactLog(Person by, String reason, Set<Long> found, long searched) {
      ledger.takeTurn(dsl);
      Map<LogEntry, Statement> texts = new HashMap<>();
      for (LogEntry entry : ledger.aboutOrWith(dsl, who.id(), names.words(), found, searched)) {
        if (!LEFT_ALONE.contains(entry.kind())) {
          boolean own = entry.subject().equals(Optional.of(who.id()));
          Statement text = Statement.of(own ? redaction.own(entry.body()) : redaction.others(entry.body()));
          if (!text.text().equals(entry.body())) {
            texts.put(entry, text);
          }
        }
      }
      LogEntry erasure = ledger.redact(dsl, now, texts, at -> {
        ObjectNode said = Statement.begin(Erasure.KIND, UUID.randomUUID(), by.id(), by.fullName(), at);
        said.putObject("apprentice").put("id", who.id().toString()).put("name", pseudonym);
        return said.put("reason", redaction.inWords(reason));
      });
      return new Erased(pseudonym, erasure.number(), texts.size());
    }
  }

  /**
   * What erasing somebody does to the rows of a table.
   *
   * @param fate "goes", "redacted" or "stays"
   */
  public record Line(String fate, String what, long rows, String why) {}

  /** What erasing somebody does, table by table; those of which there are no rows are left out. */
  public List<Line> preview(UUID who) {
    Map<String, String> why = new HashMap<>();
    ErasureTables.STAYS.forEach(columns -> why.put("stays " + columns.table(), columns.why()));
    ErasureTables.EMPTIED.forEach(column -> why.put("redacted " + column.table(), column.why()));
    ErasureTables.SEARCHED.forEach(column -> why.put("redacted " + column.table(), column.why()));
    ErasureTables.GONE.forEach(rows -> why.put("goes " + rows.table(), rows.why()));
    why.put("redacted record_log", "the log is a chain: their name, words and photos go, and what was judged stays; an entry"
        + " that is added vouches for the texts, and the fingerprints stay those of what was signed");
    why.put("redacted person", "a pseudonym takes the place of both names; nobody can sign in with it");
    List<Line> lines = new ArrayList<>();
    for (PersonTables.About rows : PersonTables.ABOUT) {
      long count = count(rows.table() + " where " + rows.where(), who);
      if (count > 0) {
        String fate = Stream.of("goes", "redacted").filter(f -> why.containsKey(f + " " + rows.table())).findFirst()
            .orElse("stays");
        lines.add(new Line(fate, rows.meaning(), count,
            why.getOrDefault(fate + " " + rows.table(), "numbers and days, which name nobody")));
      }
    }
    return lines;
  }

  private long count(String rows, UUID who) {
    return database.dsl().fetchSingle("select count(*) from " + rows, who).get(0, Long.class);
  }
}
