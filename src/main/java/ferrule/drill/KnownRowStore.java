package ferrule.drill;

import static ferrule.store.jooq.Tables.KNOWN_ABILITY;
import static ferrule.store.jooq.Tables.KNOWN_DIFFICULTY;
import static ferrule.store.jooq.Tables.KNOWN_FIRST;
import static ferrule.store.jooq.Tables.KNOWN_HOLD;

import ferrule.drill.KnownAnswerStore.Given;
import ferrule.drill.known.Belief;
import ferrule.drill.known.Knowledge;
import ferrule.drill.known.KnownModel;
import ferrule.drill.known.Trace;
import ferrule.glossary.ConceptId;
import ferrule.store.jooq.tables.KnownFirst;
import ferrule.store.jooq.tables.records.KnownAbilityRecord;
import ferrule.store.jooq.tables.records.KnownDifficultyRecord;
import ferrule.store.jooq.tables.records.KnownFirstRecord;
import ferrule.store.jooq.tables.records.KnownHoldRecord;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Row2;
import org.jooq.SelectConditionStep;
import org.jooq.UpdatableRecord;
import org.jooq.impl.DSL;
import org.jooq.impl.SQLDataType;

/** The rows of what is known, within a transaction. */
final class KnownRowStore {

  /** An apprentice and a part. */
  record Pair(UUID person, ConceptId part) {}

  /**
   * An apprentice's first answer for a part.
   *
   * @param credit what it counts
   * @param learned what is believed after it
   */
  record First(UUID response, double credit, KnownModel.Learned learned) {

    Instant at() {
      return learned.trace().last();
    }

    /** Whether it is this answer, and it counts what it did. */
    boolean isOf(Given given) {
      return response.equals(given.response()) && credit == given.answered().credit();
    }
  }

  private static final int AT_A_TIME = 500;

  private final DSLContext dsl;

  KnownRowStore(DSLContext dsl) {
    this.dsl = dsl;
  }

  /** Puts in what is kept of all parts' difficulty and of these people's ability. */
  void loadTerms(Knowledge knowledge, Collection<UUID> people) {
    dsl.selectFrom(KNOWN_ABILITY)
        .where(KNOWN_ABILITY.PERSON_ID.in(people))
        .forEach(r -> knowledge.put(r.getPersonId(), new Belief(r.getMean(), r.getVariance())));
    dsl.selectFrom(KNOWN_DIFFICULTY)
        .forEach(r -> knowledge.put(ConceptId.of(r.getPart()), new Belief(r.getMean(), r.getVariance())));
  }

  /** Puts in what these people's answers for any part have left. */
  void loadHolds(Knowledge knowledge, Collection<UUID> people) {
    put(knowledge, dsl.selectFrom(KNOWN_HOLD).where(KNOWN_HOLD.PERSON_ID.in(people)).fetch());
  }

  /** Puts in what people's answers for parts have left, of these pairs. */
  void loadHoldsOf(Knowledge knowledge, Set<Pair> pairs) {
    @SuppressWarnings({"unchecked", "rawtypes"})
    Row2<UUID, String>[] rows = pairs.stream()
        .map(p -> DSL.row(DSL.val(p.person(), SQLDataType.UUID), DSL.val(p.part().value(), SQLDataType.VARCHAR)))
        .toArray(Row2[]::new);
    // joined, the embedded database finds each by its key; lists of values it would go through for each row
    var asked = DSL.values(rows).as("asked", "person_id", "part");
    put(
        knowledge,
        dsl.select(KNOWN_HOLD.fields())
            .from(asked)
            .join(KNOWN_HOLD)
            .on(
                KNOWN_HOLD.PERSON_ID.eq(asked.field("person_id", UUID.class)),
                KNOWN_HOLD.PART.eq(asked.field("part", String.class)))
            .fetchInto(KNOWN_HOLD));
  }

  private static void put(Knowledge knowledge, Iterable<KnownHoldRecord> rows) {
    rows.forEach(r -> knowledge.put(r.getPersonId(), ConceptId.of(r.getPart()), trace(r)));
  }

  private static Trace trace(KnownHoldRecord row) {
    return new Trace(new Belief(row.getMean(), row.getVariance()), row.getAsked(), row.getLastAt(), row.getMissed());
  }

  /** The first answers of these people. */
  Map<Pair, First> firstsOf(Collection<UUID> people) {
    return firsts(dsl.selectFrom(KNOWN_FIRST).where(KNOWN_FIRST.PERSON_ID.in(people)));
  }

  /** The first answers from a moment on. */
  SelectConditionStep<KnownFirstRecord> firstsFrom(Instant from) {
    return dsl.selectFrom(KNOWN_FIRST).where(KNOWN_FIRST.ANSWERED_AT.ge(from));
  }

  /** The first answers from a moment on, as many as asked for and those given at the same moment as the last. */
  Map<Pair, First> firstsFrom(Instant from, int atLeast) {
    return firsts(firstsFrom(from).orderBy(KNOWN_FIRST.ANSWERED_AT).limit(atLeast).withTies());
  }

  private static Map<Pair, First> firsts(Iterable<KnownFirstRecord> rows) {
    Map<Pair, First> firsts = new HashMap<>();
    for (KnownFirstRecord r : rows) {
      Belief hold = new Belief(r.getHoldMean(), r.getHoldVariance());
      firsts.put(
          new Pair(r.getPersonId(), ConceptId.of(r.getPart())),
          new First(
              r.getResponseId(),
              r.getCredit(),
              new KnownModel.Learned(
                  new Belief(r.getAbilityMean(), r.getAbilityVariance()),
                  new Belief(r.getDifficultyMean(), r.getDifficultyVariance()),
                  Trace.first(hold, r.getCredit(), r.getAnsweredAt()))));
    }
    return firsts;
  }

  // in both that follow, ordered by the column that is the same in all rows too: the embedded database then uses the index

  /** What was believed of the ability of some of the people before a moment, of those who had answered by then. */
  Map<UUID, Belief> abilitiesBefore(Instant moment, Condition which) {
    KnownFirst last = KNOWN_FIRST.as("last_one");
    return dsl
        .select(KNOWN_FIRST.PERSON_ID, KNOWN_FIRST.ABILITY_MEAN, KNOWN_FIRST.ABILITY_VARIANCE)
        .from(KNOWN_ABILITY)
        .join(KNOWN_FIRST)
        .on(
            KNOWN_FIRST.PERSON_ID.eq(KNOWN_ABILITY.PERSON_ID),
            KNOWN_FIRST.PART.eq(
                DSL.select(last.PART)
                    .from(last)
                    .where(last.PERSON_ID.eq(KNOWN_ABILITY.PERSON_ID), last.ANSWERED_AT.lt(moment))
                    .orderBy(last.PERSON_ID, last.ANSWERED_AT.desc(), last.RESPONSE_ID.desc())
                    .limit(1)))
        .where(which)
        .fetchMap(r -> r.value1(), r -> new Belief(r.value2(), r.value3()));
  }

  /** What was believed of parts' difficulty before a moment, of those that somebody had answered for by then. */
  Map<ConceptId, Belief> difficultiesBefore(Instant moment) {
    KnownFirst last = KNOWN_FIRST.as("last_one");
    return dsl
        .select(KNOWN_FIRST.PART, KNOWN_FIRST.DIFFICULTY_MEAN, KNOWN_FIRST.DIFFICULTY_VARIANCE)
        .from(KNOWN_DIFFICULTY)
        .join(KNOWN_FIRST)
        .on(
            KNOWN_FIRST.PART.eq(KNOWN_DIFFICULTY.PART),
            KNOWN_FIRST.PERSON_ID.eq(
                DSL.select(last.PERSON_ID)
                    .from(last)
                    .where(last.PART.eq(KNOWN_DIFFICULTY.PART), last.ANSWERED_AT.lt(moment))
                    .orderBy(last.PART, last.ANSWERED_AT.desc(), last.RESPONSE_ID.desc())
                    .limit(1)))
        .fetchMap(r -> ConceptId.of(r.value1()), r -> new Belief(r.value2(), r.value3()));
  }

  /** What is believed of whatever is one side of some pairs. */
  static <T> Map<T, Belief> each(Set<Pair> pairs, Function<Pair, T> side, Function<T, Belief> belief) {
    return pairs.stream().map(side).distinct().collect(Collectors.toMap(Function.identity(), belief));
  }

  void keepAbilities(Map<UUID, Belief> abilities) {
    keep(abilities.entrySet().stream()
        .map(a -> new KnownAbilityRecord(a.getKey(), a.getValue().mean(), a.getValue().variance())));
  }

  void keepDifficulties(Map<ConceptId, Belief> difficulties) {
    keep(difficulties.entrySet().stream()
        .map(d -> new KnownDifficultyRecord(d.getKey().value(), d.getValue().mean(), d.getValue().variance())));
  }

  void keepHolds(Map<Pair, Trace> traces) {
    keep(traces.entrySet().stream().map(t -> row(t.getKey(), t.getValue())));
  }

  void keepFirsts(Map<Pair, First> firsts) {
    keep(firsts.entrySet().stream().map(f -> row(f.getKey(), f.getValue())));
  }

  /** Writes rows of one table, whether they are there or not; the database reads one statement for some hundreds. */
  private void keep(Stream<? extends UpdatableRecord<?>> rows) {
    List<UpdatableRecord<?>> some = new ArrayList<>();
    for (Iterator<? extends UpdatableRecord<?>> all = rows.iterator(); all.hasNext(); ) {
      some.add(all.next());
      if (some.size() == AT_A_TIME || !all.hasNext()) {
        keep(some);
        some.clear();
      }
    }
  }

  // half the time of a merge in an embedded database
  private void keep(List<UpdatableRecord<?>> rows) {
    rows.forEach(row -> row.getTable().getPrimaryKey().getFields().forEach(field -> row.changed(field, false)));
    int[] updated = dsl.batchUpdate(rows).execute();
    List<UpdatableRecord<?>> missing =
        IntStream.range(0, updated.length).filter(i -> updated[i] == 0).<UpdatableRecord<?>>mapToObj(rows::get).toList();
    missing.forEach(row -> row.changed(true));
    dsl.batchInsert(missing).execute();
  }

  private static KnownHoldRecord row(Pair pair, Trace trace) {
    return new KnownHoldRecord(
        pair.person(), pair.part().value(), trace.hold().mean(), trace.hold().variance(), trace.asked(), trace.last(),
        trace.missed());
  }

  private static KnownFirstRecord row(Pair pair, First first) {
    KnownModel.Learned after = first.learned();
    return new KnownFirstRecord(
        pair.person(), pair.part().value(), first.response(), first.at(), first.credit(),
        after.ability().mean(), after.ability().variance(), after.difficulty().mean(), after.difficulty().variance(),
        after.trace().hold().mean(), after.trace().hold().variance());
  }
}
