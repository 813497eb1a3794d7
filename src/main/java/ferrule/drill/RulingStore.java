package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_DISPUTE;
import static ferrule.store.jooq.Tables.DRILL_ITEM;
import static ferrule.store.jooq.Tables.DRILL_REGRADE;
import static ferrule.store.jooq.Tables.DRILL_REGRADE_READ;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_RULING;
import static ferrule.store.jooq.Tables.DRILL_RULINGS_MADE;
import static ferrule.store.jooq.Tables.DRILL_RULING_UNDONE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;
import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.RECORD_LOG;

import ferrule.glossary.ConceptId;
import ferrule.ledger.LedgerStore;
import ferrule.ledger.LogCheck;
import ferrule.ledger.LogEntry;
import ferrule.ledger.Vouched;
import ferrule.naming.Ruling;
import ferrule.store.Database;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.BiFunction;
import java.util.stream.Collectors;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.impl.DSL;

/**
 * Rulings on typed answers in the database. Nothing of them is ever changed: undoing a ruling is a record too, and both
 * enter the log.
 */
public final class RulingStore implements Vouched {

  // rows that say the same: an answer holds one of them, so that answers seldom wait for each other
  private static final int COUNTERS = 16;

  private final Database database;
  private final LedgerStore ledger;

  /** A store over this database. */
  public RulingStore(Database database) {
    this.database = database;
    this.ledger = new LedgerStore(database);
  }

  /** An answer with whose drill's policy it is judged. */
  record Judged(Response response, Plan plan) {}

  /** How often a ruling was made or taken back: a number that grows whenever the rulings that stand change. */
  long made() {
    return database.dsl().select(DRILL_RULINGS_MADE.MADE).from(DRILL_RULINGS_MADE)
        .where(DRILL_RULINGS_MADE.ID.eq(1)).fetchSingle(DRILL_RULINGS_MADE.MADE);
  }

  /**
   * Whether a judgement is by the rulings that hold. If it is, none is made or taken back until the transaction ends,
   * and one that is made after it finds what the transaction has kept.
   */
  static boolean holdsStill(DSLContext dsl, UUID sitting, Judgement judgement) {
    return judgement.rulings().isEmpty()
        || judgement.rulings().getAsLong()
            == dsl.select(DRILL_RULINGS_MADE.MADE)
                .from(DRILL_RULINGS_MADE)
                .where(DRILL_RULINGS_MADE.ID.eq(1 + Math.floorMod(sitting.hashCode(), COUNTERS)))
                .forUpdate()
                .fetchSingle(DRILL_RULINGS_MADE.MADE);
  }

  /** Counts one more, if nobody else has since it was this many; answers wait until the transaction ends. */
  private static boolean isNext(DSLContext dsl, long made) {
    return dsl.update(DRILL_RULINGS_MADE)
            .set(DRILL_RULINGS_MADE.MADE, made + 1)
            .where(DRILL_RULINGS_MADE.MADE.eq(made))
            .execute()
        == COUNTERS;
  }

  /** Every ruling, the latest first. */
  public List<RuledAnswer> rulings() {
    return rulings(database.dsl(), DSL.noCondition());
  }

  /** The rulings that stand, in the order in which they were made. */
  public List<RuledAnswer> standing() {
    List<RuledAnswer> standing = new ArrayList<>(rulings(database.dsl(), DRILL_RULING_UNDONE.RULING_ID.isNull()));
    Collections.reverse(standing);
    return standing;
  }

  /** The ruling with this id, if there is one. */
  public Optional<RuledAnswer> ruling(UUID id) {
    return rulings(database.dsl(), DRILL_RULING.ID.eq(id)).stream().findFirst();
  }

  private static List<RuledAnswer> rulings(DSLContext dsl, Condition which) {
    return dsl.select(DRILL_RULING.fields())
        .select(DRILL_RULING_UNDONE.UNDONE_AT)
        .from(DRILL_RULING)
        .leftJoin(DRILL_RULING_UNDONE)
        .on(DRILL_RULING_UNDONE.RULING_ID.eq(DRILL_RULING.ID))
        .where(which)
        .orderBy(DRILL_RULING.RULED_AT.desc(), DRILL_RULING.ID)
        .fetch(RulingStore::toRuling);
  }

  /** How many answers each ruling has regraded. */
  public Map<UUID, Integer> regraded() {
    return database
        .dsl()
        .select(DRILL_REGRADE.RULING_ID, DSL.countDistinct(DRILL_REGRADE.RESPONSE_ID))
        .from(DRILL_REGRADE)
        .groupBy(DRILL_REGRADE.RULING_ID)
        .fetchMap(r -> r.value1(), r -> r.value2());
  }

  /**
   * The phrases that await a ruling: typed answers that were not understood or that their apprentices think right, and
   * that no standing ruling has regraded; the most often answered first.
   */
  public List<OpenAnswer> open() {
    Map<List<String>, List<Record>> groups = new LinkedHashMap<>();
    DrillStore.responsesWhere(database.dsl(), awaitsRuling())
        .orderBy(DRILL_RESPONSE.ANSWERED_AT.desc(), DRILL_RESPONSE.ID)
        .fetch()
        .forEach(
            row ->
                groups
                    .computeIfAbsent(
                        List.of(row.get(DRILL_ITEM.PART), row.get(DRILL_RESPONSE.PHRASE)), k -> new ArrayList<>())
                    .add(row));
    return groups.values().stream()
        .map(RulingStore::toOpenAnswer)
        .sorted((a, b) -> Integer.compare(b.times(), a.times()))
        .toList();
  }

  /** A phrase that awaits a ruling for a part, and how many of its answers are disputed. */
  record OpenPhrase(ConceptId part, String phrase, int disputed) {}

  /** What {@link #open} tells of, without the answers. */
  List<OpenPhrase> openPhrases() {
    return database
        .dsl()
        .select(DRILL_ITEM.PART, DRILL_RESPONSE.PHRASE, DSL.count(DRILL_DISPUTE.RESPONSE_ID))
        .from(DRILL_RESPONSE)
        .join(DRILL_ITEM)
        .on(DRILL_ITEM.SITTING_ID.eq(DRILL_RESPONSE.SITTING_ID), DRILL_ITEM.POSITION.eq(DRILL_RESPONSE.POSITION))
        .leftJoin(DRILL_REGRADE)
        .on(DrillStore.latestRegrade())
        .leftJoin(DRILL_DISPUTE)
        .on(DRILL_DISPUTE.RESPONSE_ID.eq(DRILL_RESPONSE.ID))
        .where(awaitsRuling())
        .groupBy(DRILL_ITEM.PART, DRILL_RESPONSE.PHRASE)
        .fetch(row -> new OpenPhrase(new ConceptId(row.value1()), row.value2(), row.value3()));
  }

  private static Condition awaitsRuling() {
    Condition asks =
        DRILL_RESPONSE.VERDICT.eq("unknown").or(DRILL_DISPUTE.RESPONSE_ID.isNotNull());
    Condition notRuled =
        DRILL_REGRADE.ID.isNull()
            .or(
                DSL.exists(
                    DSL.selectOne()
                        .from(DRILL_RULING_UNDONE)
                        .where(DRILL_RULING_UNDONE.RULING_ID.eq(DRILL_REGRADE.RULING_ID))));
    return DRILL_RESPONSE.PHRASE.isNotNull().and(asks).and(notRuled);
  }

  private static OpenAnswer toOpenAnswer(List<Record> rows) {
    List<Response> responses = rows.stream().map(DrillStore::toResponse).toList();
    return new OpenAnswer(
        responses.get(0).item().key(),
        rows.get(0).get(DRILL_RESPONSE.PHRASE),
        responses.stream().map(r -> r.typed().orElseThrow()).distinct().toList(),
        responses.size(),
        rows.stream().map(r -> r.get(DRILL_SITTING.PERSON_ID)).distinct().toList(),
        (int) responses.stream().filter(Response::disputed).count(),
        responses.get(0).answeredAt());
  }

  /**
   * Keeps a ruling and regrades every answer with its phrase.
   *
   * @param made the rulings that the outcomes take into account, as {@link #made} tells
   * @param outcome what an answer counts under this ruling; an answer that counts as before is not regraded
   * @return how many answers were regraded; empty, with nothing changed, if the rulings are others by now
   */
  Optional<Integer> rule(RuledAnswer ruling, long made, BiFunction<Response, Plan, Outcome> outcome) {
    return database.inTransaction(
        dsl -> {
          if (!isNext(dsl, made)) {
            return Optional.empty();
          }
          insert(dsl, ruling);
          int regraded = regrade(dsl, ruling, ruling.ruledAt(), outcome);
          String name = nameOf(dsl, ruling.ruledBy());
          ledger.append(dsl, ruling.ruledAt(), at -> RulingStatement.ruled(ruling, name, at));
          return Optional.of(regraded);
        });
  }

  /**
   * Takes a ruling back and regrades every answer with its phrase anew.
   *
   * @param made the rulings that the outcomes take into account, as {@link #made} tells
   * @return how many answers were regraded; empty, with nothing changed, if the rulings are others by now
   */
  Optional<Integer> undo(
      RuledAnswer ruling, UUID by, Instant at, long made, BiFunction<Response, Plan, Outcome> outcome) {
    return database.inTransaction(
        dsl -> {
          if (!isNext(dsl, made)) {
            return Optional.empty();
          }
          dsl.insertInto(DRILL_RULING_UNDONE)
              .set(DRILL_RULING_UNDONE.RULING_ID, ruling.id())
              .set(DRILL_RULING_UNDONE.UNDONE_BY, by)
              .set(DRILL_RULING_UNDONE.UNDONE_AT, at)
              .execute();
          int regraded = regrade(dsl, ruling, at, outcome);
          String name = nameOf(dsl, by);
          UUID id = UUID.randomUUID();
          ledger.append(dsl, at, signedAt -> RulingStatement.undone(id, ruling.id(), by, name, at, signedAt));
          return Optional.of(regraded);
        });
  }

  private static String nameOf(DSLContext dsl, UUID person) {
    return dsl.select(PERSON.FULL_NAME).from(PERSON).where(PERSON.ID.eq(person)).fetchSingle(PERSON.FULL_NAME);
  }

  private static void insert(DSLContext dsl, RuledAnswer r) {
    dsl.insertInto(DRILL_RULING)
        .set(DRILL_RULING.ID, r.id())
        .set(DRILL_RULING.GLOSSARY, r.glossary())
        .set(DRILL_RULING.EDITION, r.edition())
        .set(DRILL_RULING.PART, r.ruling().part().value())
        .set(DRILL_RULING.TYPED, r.typed())
        .set(DRILL_RULING.PHRASE, r.ruling().phrase())
        .set(DRILL_RULING.DECISION, RulingWord.of(r.ruling().decision()).word())
        .set(DRILL_RULING.REASON, RulingWord.reason(r.ruling().decision()))
        .set(DRILL_RULING.RULED_BY, r.ruledBy())
        .set(DRILL_RULING.RULED_AT, r.ruledAt())
        .execute();
  }

  /** The first of these entries whose ruling, or its undoing, does not stand in the tables as it was signed. */
  @Override
  public Optional<LogCheck.Touched> firstTouched(List<LogEntry> entries) {
    List<LogEntry> ours = entries.stream().filter(e -> RulingStatement.KINDS.contains(e.kind())).toList();
    if (ours.isEmpty()) {
      return Optional.empty();
    }
    List<UUID> ids = ours.stream().map(RulingStatement::ruling).toList();
    Map<UUID, RuledAnswer> kept =
        rulings(database.dsl(), DRILL_RULING.ID.in(ids)).stream().collect(Collectors.toMap(RuledAnswer::id, r -> r));
    Map<UUID, UUID> undoneBy =
        database.dsl().selectFrom(DRILL_RULING_UNDONE).where(DRILL_RULING_UNDONE.RULING_ID.in(ids))
            .fetchMap(DRILL_RULING_UNDONE.RULING_ID, DRILL_RULING_UNDONE.UNDONE_BY);
    return ours.stream()
        .filter(entry -> {
          UUID ruling = RulingStatement.ruling(entry);
          return !RulingStatement.agrees(
              entry, Optional.ofNullable(kept.get(ruling)), Optional.ofNullable(undoneBy.get(ruling)));
        })
        .findFirst()
        .map(entry -> new LogCheck.Touched(
            entry.number(), "record " + entry.number() + " (" + entry.kind() + " " + entry.id()
                + "): the ruling that is applied is not the one that was signed"));
  }

  @Override
  public Optional<String> inserted() {
    Condition signed = DSL.exists(DSL.selectOne().from(RECORD_LOG).where(RECORD_LOG.ID.eq(DRILL_RULING.ID)));
    Condition undoingSigned =
        DSL.exists(DSL.selectOne().from(RECORD_LOG).where(RECORD_LOG.SUPERSEDES.eq(DRILL_RULING_UNDONE.RULING_ID)));
    return database.dsl().select(DRILL_RULING.ID).from(DRILL_RULING).where(DSL.not(signed)).limit(1)
        .fetchOptional(row -> "the ruling " + row.value1() + " has been inserted: no record of the log is of it")
        .or(() -> database.dsl().select(DRILL_RULING_UNDONE.RULING_ID).from(DRILL_RULING_UNDONE)
            .where(DSL.not(undoingSigned)).limit(1)
            .fetchOptional(row -> "the undoing of the ruling " + row.value1()
                + " has been inserted: no record of the log is of it"));
  }

  private static int regrade(
      DSLContext dsl, RuledAnswer ruling, Instant at, BiFunction<Response, Plan, Outcome> outcome) {
    List<Judged> answers =
        DrillStore.responsesWhere(dsl, DRILL_RESPONSE.PHRASE.eq(ruling.ruling().phrase()).and(notCorrected()))
            .orderBy(DRILL_RESPONSE.ID)
            .fetch(row -> new Judged(DrillStore.toResponse(row), planOf(dsl, row)));
    int regraded = 0;
    for (Judged answer : answers) {
      Outcome now = outcome.apply(answer.response(), answer.plan());
      if (!now.equals(answer.response().now())) {
        insertRegrade(dsl, answer.response().id(), ruling.id(), now, at);
        regraded++;
      }
    }
    return regraded;
  }

  /** What was corrected by hand is no answer with this phrase any more. */
  private static Condition notCorrected() {
    return DRILL_REGRADE.ID.isNull().or(DRILL_REGRADE.RULING_ID.isNotNull());
  }

  private static Plan planOf(DSLContext dsl, Record response) {
    return PlanDocument.read(
        dsl.select(DRILL_SITTING.PLAN)
            .from(DRILL_SITTING)
            .where(DRILL_SITTING.ID.eq(response.get(DRILL_RESPONSE.SITTING_ID)))
            .fetchSingle(DRILL_SITTING.PLAN));
  }

  private static void insertRegrade(DSLContext dsl, UUID response, UUID ruling, Outcome outcome, Instant at) {
    Integer last =
        dsl.select(DSL.coalesce(DSL.max(DRILL_REGRADE.ORDINAL), 0))
            .from(DRILL_REGRADE)
            .where(DRILL_REGRADE.RESPONSE_ID.eq(response))
            .fetchSingle()
            .value1();
    UUID id = UUID.randomUUID();
    dsl.insertInto(DRILL_REGRADE)
        .set(DRILL_REGRADE.ID, id)
        .set(DRILL_REGRADE.RESPONSE_ID, response)
        .set(DRILL_REGRADE.ORDINAL, last + 1)
        .set(DRILL_REGRADE.RULING_ID, ruling)
        .set(DRILL_REGRADE.VERDICT, outcome.verdict())
        .set(DRILL_REGRADE.CREDIT, outcome.credit())
        .set(DRILL_REGRADE.REASON, outcome.reason())
        .set(DRILL_REGRADE.TAKEN_FOR, outcome.takenFor().map(ConceptId::value).orElse(null))
        .set(DRILL_REGRADE.REGRADED_AT, at)
        .execute();
    DrillStore.noteRegrade(dsl, response, id, at);
  }

  /** What counts otherwise now for a person and they have not read yet, the latest first. */
  public List<Change> changesFor(UUID person) {
    Condition unread =
        DRILL_REGRADE.ID.isNotNull()
            .and(
                DSL.notExists(
                    DSL.selectOne()
                        .from(DRILL_REGRADE_READ)
                        .where(DRILL_REGRADE_READ.REGRADE_ID.eq(DRILL_REGRADE.ID))));
    return DrillStore.responsesWhere(database.dsl(), DRILL_SITTING.PERSON_ID.eq(person).and(unread))
        .orderBy(DRILL_REGRADE.REGRADED_AT.desc(), DRILL_REGRADE.ID)
        .fetch(
            row -> {
              Response r = DrillStore.toResponse(row);
              return new Change(
                  row.get(DRILL_REGRADE.ID), r.item().key(), r.typed().orElse(""), r.first().credit(), r.now());
            });
  }

  /** Whether a change was made to an answer of this person. */
  public boolean isChangeFor(UUID person, UUID regrade) {
    return database
        .dsl()
        .fetchExists(
            DSL.selectOne()
                .from(DRILL_REGRADE)
                .join(DRILL_RESPONSE)
                .on(DRILL_RESPONSE.ID.eq(DRILL_REGRADE.RESPONSE_ID))
                .join(DRILL_SITTING)
                .on(DRILL_SITTING.ID.eq(DRILL_RESPONSE.SITTING_ID))
                .where(DRILL_REGRADE.ID.eq(regrade))
                .and(DRILL_SITTING.PERSON_ID.eq(person)));
  }

  /** Keeps that a person has read of a change; nothing happens if it is not theirs or they had read it. */
  public void read(UUID person, UUID regrade, Instant at) {
    boolean theirs = isChangeFor(person, regrade);
    if (theirs) {
      database
          .dsl()
          .insertInto(DRILL_REGRADE_READ)
          .set(DRILL_REGRADE_READ.REGRADE_ID, regrade)
          .set(DRILL_REGRADE_READ.READ_AT, at)
          .onConflictDoNothing()
          .execute();
    }
  }

  private static RuledAnswer toRuling(Record row) {
    RulingWord word = RulingWord.find(row.get(DRILL_RULING.DECISION)).orElseThrow();
    Ruling ruling =
        new Ruling(
            row.get(DRILL_RULING.PHRASE),
            ConceptId.of(row.get(DRILL_RULING.PART)),
            word.decision(row.get(DRILL_RULING.REASON)));
    return new RuledAnswer(
        row.get(DRILL_RULING.ID),
        row.get(DRILL_RULING.GLOSSARY),
        row.get(DRILL_RULING.EDITION),
        row.get(DRILL_RULING.TYPED),
        ruling,
        row.get(DRILL_RULING.RULED_BY),
        row.get(DRILL_RULING.RULED_AT),
        Optional.ofNullable(row.get(DRILL_RULING_UNDONE.UNDONE_AT)));
  }
}
