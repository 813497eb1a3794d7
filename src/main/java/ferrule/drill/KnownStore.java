package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_ITEM;
import static ferrule.store.jooq.Tables.DRILL_REGRADE;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;
import static ferrule.store.jooq.Tables.KNOWN_ABILITY;
import static ferrule.store.jooq.Tables.KNOWN_DIFFICULTY;
import static ferrule.store.jooq.Tables.KNOWN_HOLD;
import static ferrule.store.jooq.Tables.KNOWN_PENDING;
import static ferrule.store.jooq.Tables.KNOWN_THROUGH;

import ferrule.drill.known.Answered;
import ferrule.drill.known.Asking;
import ferrule.drill.known.Belief;
import ferrule.drill.known.Knowledge;
import ferrule.drill.known.KnownModel;
import ferrule.drill.known.Trace;
import ferrule.glossary.ConceptId;
import ferrule.store.Database;
import ferrule.store.jooq.tables.records.KnownAbilityRecord;
import ferrule.store.jooq.tables.records.KnownDifficultyRecord;
import ferrule.store.jooq.tables.records.KnownHoldRecord;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jooq.Condition;
import org.jooq.Cursor;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.ResultQuery;
import org.jooq.SelectSelectStep;
import org.jooq.UpdatableRecord;
import org.jooq.impl.DSL;

/**
 * What is known, in the database: a summary of the answers that can be made anew from them at any time.
 *
 * <p>The transaction that keeps an answer only notes that it is there, so that people who answer at once wait for nobody.
 * Every few seconds, and before what is known is read, the noted answers are taken into the summary in the order in which they
 * were given. The latest stay noted for {@link #SETTLED}, since another node may keep one that was given before them a
 * moment later; whoever reads takes those in for themselves. If an answer comes later still, or if answers were regraded,
 * the summary is made anew from all answers before it is read next. Whoever changes the summary holds the lock of one row,
 * so that several nodes agree.
 */
public final class KnownStore {

  /** How much later than the next an answer may be kept and still be taken in in its order. */
  static final Duration SETTLED = Duration.ofSeconds(10);

  private static final int THE_ROW = 1;
  private static final int AT_A_TIME = 500;
  private static final List<String> KINDS =
      Arrays.stream(ItemKind.values()).filter(ItemKind::asksForName).map(ItemKind::word).toList();

  private final Database database;
  private final KnownModel model = KnownModel.standard();

  /** A store over this database. */
  public KnownStore(Database database) {
    this.database = database;
  }

  /**
   * How an item of this kind asks, as far as it matters to what an answer proves; empty if an answer proves nothing about
   * a part's name, because it is about where the part belongs or about work. Of a place on a drawing, as many parts count
   * as choices as somebody could take for the one that is to be found.
   */
  static Optional<Asking> asking(ItemKind kind) {
    if (!kind.asksForName()) {
      return Optional.empty();
    }
    return Optional.of(kind.choices() == 0 ? Asking.named() : Asking.chosenAmong(kind.choices()));
  }

  /** What is known of these people, as it follows from every answer that was given and what it counts now. */
  public Knowledge knowledge(Collection<UUID> people) {
    boolean more = true;
    while (more) {
      more = takeSomeIn();
    }
    return database
        .reading(dsl -> isOutdated(dsl) ? Optional.<Knowledge>empty() : Optional.of(withNoted(dsl, people)))
        .orElseGet(
            () ->
                database.inTransaction(
                    dsl -> {
                      makeAnew(dsl);
                      return withNoted(dsl, people);
                    }));
  }

  private Knowledge withNoted(DSLContext dsl, Collection<UUID> people) {
    List<Noted> noted = noted(dsl, dsl.selectFrom(KNOWN_PENDING).fetch(KNOWN_PENDING.RESPONSE_ID));
    Set<UUID> all = new HashSet<>(people);
    noted.forEach(n -> all.add(n.answered().person()));
    Knowledge knowledge = load(dsl, all);
    noted.forEach(n -> knowledge.learn(n.answered()));
    return knowledge;
  }

  // -- taking answers in

  /** An answer that is noted and not yet taken in. */
  private record Noted(UUID response, Answered answered) {}

  /** Notes an answer, within the transaction that keeps it. */
  static void note(DSLContext dsl, UUID response, Item item, Instant at) {
    if (asking(item.kind()).isPresent()) {
      dsl.insertInto(KNOWN_PENDING).values(response, at).execute();
    }
  }

  /**
   * Takes the first of the noted answers in that are settled, so that whoever reads next has little to do; returns whether
   * there may be more.
   */
  public boolean takeSomeIn() {
    // asked before writing, which in an embedded database only one may do at a time
    return database.reading(dsl -> !settled(dsl).isEmpty()) && database.inTransaction(this::takeSomeIn);
  }

  private boolean takeSomeIn(DSLContext dsl) {
    Record through = lock(dsl);
    List<Noted> noted = noted(dsl, settled(dsl));
    Instant last = through.get(KNOWN_THROUGH.LAST_AT);
    if (noted.isEmpty()) {
      return false; // somebody else has taken them in meanwhile
    }
    if (through.get(KNOWN_THROUGH.OUTDATED) || last != null && noted.get(0).answered().at().isBefore(last)) {
      dsl.update(KNOWN_THROUGH).set(KNOWN_THROUGH.OUTDATED, true).execute();
    } else {
      learn(dsl, noted.stream().map(Noted::answered).toList());
    }
    dsl.deleteFrom(KNOWN_PENDING)
        .where(KNOWN_PENDING.RESPONSE_ID.in(noted.stream().map(Noted::response).toList())).execute();
    return noted.size() == AT_A_TIME;
  }

  private static List<UUID> settled(DSLContext dsl) {
    Instant latest = dsl.select(DSL.max(KNOWN_PENDING.ANSWERED_AT)).from(KNOWN_PENDING).fetchSingle().value1();
    return latest == null ? List.of() : dsl.select(KNOWN_PENDING.RESPONSE_ID)
        .from(KNOWN_PENDING)
        .where(KNOWN_PENDING.ANSWERED_AT.lt(latest.minus(SETTLED)))
        .orderBy(KNOWN_PENDING.ANSWERED_AT)
        .limit(AT_A_TIME)
        .fetch(KNOWN_PENDING.RESPONSE_ID);
  }

  /** These answers with what they count now, in the order in which they were given. */
  private static List<Noted> noted(DSLContext dsl, List<UUID> responses) {
    List<Noted> noted = new ArrayList<>();
    for (int from = 0; from < responses.size(); from += AT_A_TIME) {
      List<UUID> some = responses.subList(from, Math.min(responses.size(), from + AT_A_TIME));
      inOrder(dsl, DRILL_RESPONSE.ID.in(some))
          .forEach(row -> noted.add(new Noted(row.get(DRILL_RESPONSE.ID), answered(row))));
    }
    noted.sort(Comparator.comparing(n -> n.answered().at()));
    return noted;
  }

  private void learn(DSLContext dsl, List<Answered> answers) {
    Knowledge knowledge = load(dsl, distinct(answers, Answered::person).toList());
    answers.forEach(knowledge::learn);
    keep(dsl, distinct(answers, Answered::person).map(p -> row(p, knowledge.ability(p))));
    keep(dsl, distinct(answers, Answered::part).map(p -> row(p, knowledge.difficulty(p))));
    keep(dsl, distinct(answers, a -> new Pair(a.person(), a.part()))
        .map(p -> row(p.person(), p.part(), knowledge.trace(p.person(), p.part()).orElseThrow())));
    dsl.update(KNOWN_THROUGH).set(KNOWN_THROUGH.LAST_AT, answers.get(answers.size() - 1).at()).execute();
  }

  // -- making anew

  private static Record lock(DSLContext dsl) {
    return dsl.selectFrom(KNOWN_THROUGH).where(KNOWN_THROUGH.ID.eq(THE_ROW)).forUpdate().fetchSingle();
  }

  private static boolean isOutdated(DSLContext dsl) {
    Record through = dsl.selectFrom(KNOWN_THROUGH).where(KNOWN_THROUGH.ID.eq(THE_ROW)).fetchSingle();
    return through.get(KNOWN_THROUGH.OUTDATED)
        || through.get(KNOWN_THROUGH.REGRADES) != dsl.fetchCount(DRILL_REGRADE);
  }

  private record Pair(UUID person, ConceptId part) {}

  private void makeAnew(DSLContext dsl) {
    lock(dsl);
    if (!isOutdated(dsl)) {
      return; // somebody else has done it meanwhile
    }
    int regrades = dsl.fetchCount(DRILL_REGRADE);
    Knowledge knowledge = new Knowledge(model);
    Optional<Instant> last = replay(dsl, knowledge);
    dsl.deleteFrom(KNOWN_HOLD).execute();
    dsl.deleteFrom(KNOWN_DIFFICULTY).execute();
    dsl.deleteFrom(KNOWN_ABILITY).execute();
    keep(dsl, knowledge.people().stream().map(p -> row(p, knowledge.ability(p))));
    keep(dsl, knowledge.parts().stream().map(p -> row(p, knowledge.difficulty(p))));
    keep(dsl, knowledge.people().stream().flatMap(person -> knowledge.traces(person).entrySet().stream()
        .map(trace -> row(person, trace.getKey(), trace.getValue()))));
    dsl.update(KNOWN_THROUGH)
        .set(KNOWN_THROUGH.OUTDATED, false)
        .set(KNOWN_THROUGH.LAST_AT, last.orElse(null))
        .set(KNOWN_THROUGH.REGRADES, regrades)
        .execute();
  }

  /**
   * Learns from every answer but those that are noted still, with what it counts now, in the order in which they were given;
   * a school has millions, of which some are in memory at a time. Returns when the last was given.
   */
  private static Optional<Instant> replay(DSLContext dsl, Knowledge knowledge) {
    Condition takenIn =
        DSL.notExists(
            DSL.selectOne().from(KNOWN_PENDING).where(KNOWN_PENDING.RESPONSE_ID.eq(DRILL_RESPONSE.ID)));
    Optional<Instant> last = Optional.empty();
    try (Cursor<? extends Record> rows =
        inOrder(dsl, DRILL_ITEM.KIND.in(KINDS).and(takenIn)).fetchSize(AT_A_TIME).fetchLazy()) {
      for (Record row : rows) {
        Answered answered = answered(row);
        knowledge.learn(answered);
        last = Optional.of(answered.at());
      }
    }
    return last;
  }

  private static ResultQuery<? extends Record> inOrder(DSLContext dsl, Condition which) {
    SelectSelectStep<? extends Record> facts = dsl
        .select(DRILL_RESPONSE.ID, DRILL_RESPONSE.ANSWERED_AT, DRILL_SITTING.PERSON_ID, DRILL_ITEM.PART, DRILL_ITEM.KIND)
        .select(DrillStore.CREDIT.as("credit_now"));
    return DrillStore.answered(facts, which)
        .orderBy(DRILL_RESPONSE.ANSWERED_AT, DRILL_RESPONSE.SITTING_ID, DRILL_RESPONSE.POSITION);
  }

  private static Answered answered(Record row) {
    return new Answered(
        row.get(DRILL_SITTING.PERSON_ID),
        ConceptId.of(row.get(DRILL_ITEM.PART)),
        asking(ItemKind.parse(row.get(DRILL_ITEM.KIND))).orElseThrow(),
        row.get("credit_now", Double.class),
        row.get(DRILL_RESPONSE.ANSWERED_AT));
  }

  // -- rows

  private Knowledge load(DSLContext dsl, Collection<UUID> people) {
    Knowledge knowledge = new Knowledge(model);
    dsl.selectFrom(KNOWN_ABILITY)
        .where(KNOWN_ABILITY.PERSON_ID.in(people))
        .forEach(r -> knowledge.put(r.getPersonId(), new Belief(r.getMean(), r.getVariance())));
    dsl.selectFrom(KNOWN_DIFFICULTY)
        .forEach(r -> knowledge.put(ConceptId.of(r.getPart()), new Belief(r.getMean(), r.getVariance())));
    dsl.selectFrom(KNOWN_HOLD)
        .where(KNOWN_HOLD.PERSON_ID.in(people))
        .forEach(r -> knowledge.put(r.getPersonId(), ConceptId.of(r.getPart()), trace(r)));
    return knowledge;
  }

  private static Trace trace(Record row) {
    return new Trace(
        new Belief(row.get(KNOWN_HOLD.MEAN), row.get(KNOWN_HOLD.VARIANCE)),
        row.get(KNOWN_HOLD.ASKED),
        row.get(KNOWN_HOLD.LAST_AT),
        row.get(KNOWN_HOLD.MISSED));
  }

  /** Keeps rows of one table; the database reads one statement for some hundreds. */
  private static void keep(DSLContext dsl, Stream<? extends UpdatableRecord<?>> rows) {
    List<UpdatableRecord<?>> some = new ArrayList<>();
    for (Iterator<? extends UpdatableRecord<?>> all = rows.iterator(); all.hasNext(); ) {
      some.add(all.next());
      if (some.size() == AT_A_TIME || !all.hasNext()) {
        dsl.batchMerge(some).execute();
        some.clear();
      }
    }
  }

  private static <T> Stream<T> distinct(List<Answered> answers, Function<Answered, T> of) {
    return answers.stream().map(of).distinct();
  }

  private static KnownAbilityRecord row(UUID person, Belief ability) {
    return new KnownAbilityRecord(person, ability.mean(), ability.variance());
  }

  private static KnownDifficultyRecord row(ConceptId part, Belief difficulty) {
    return new KnownDifficultyRecord(part.value(), difficulty.mean(), difficulty.variance());
  }

  private static KnownHoldRecord row(UUID person, ConceptId part, Trace trace) {
    return new KnownHoldRecord(
        person, part.value(), trace.hold().mean(), trace.hold().variance(), trace.asked(), trace.last(),
        trace.missed());
  }
}
