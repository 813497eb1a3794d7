package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;
import static ferrule.store.jooq.Tables.KNOWN_ABILITY;
import static ferrule.store.jooq.Tables.KNOWN_ANEW;
import static ferrule.store.jooq.Tables.KNOWN_PENDING;
import static ferrule.store.jooq.Tables.KNOWN_THROUGH;

import ferrule.drill.KnownAnswerStore.Given;
import ferrule.drill.KnownRowStore.First;
import ferrule.drill.KnownRowStore.Pair;
import ferrule.drill.KnownStore.Portion;
import ferrule.drill.known.Answered;
import ferrule.drill.known.Knowledge;
import ferrule.drill.known.KnownModel;
import ferrule.drill.known.Trace;
import ferrule.store.jooq.tables.records.KnownAnewRecord;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Record2;
import org.jooq.SelectConditionStep;
import org.jooq.SelectLimitStep;
import org.jooq.impl.DSL;

/**
 * Puts what is known right, in portions, after an answer came in that was given before others that are taken in, or
 * after one counts otherwise than when it was taken in.
 *
 * <p>An apprentice's answers for a part after the first move the hold alone, and depend on no other answers. So whoever
 * gave such an answer has theirs read anew: what is believed after the first stands in a row of its own, and the hold
 * follows. The first answers move the ability and the difficulty too, on which all later first answers depend. If one of
 * them is new or counts otherwise, then those from there on are learnt from anew in their order, from what was believed
 * before; for whom that changes something, the answers are read once more. In between, the ability and the difficulty
 * are as they were, and a first answer that is out of order counts as if it were given last. In the end all is as if
 * every answer had come in its order and had counted at once what it counts now.
 */
final class KnownCorrectionStore {

  /** With as many reasons to read somebody's answers anew, a reader waits until that is done. */
  private static final int LITTLE = 30;
  private static final int REASONS = 500;

  /** The database counts time in these. */
  private static final Duration TICK = Duration.ofNanos(1_000);

  private final DSLContext dsl;
  private final KnownModel model;
  private final Portion portion;
  private final KnownRowStore rows;

  /** Within a transaction that holds the lock, or that only reads. */
  KnownCorrectionStore(DSLContext dsl, KnownModel model, Portion portion) {
    this.dsl = dsl;
    this.model = model;
    this.portion = portion;
    this.rows = new KnownRowStore(dsl);
  }

  /** Whether anything is to be put right. */
  boolean isDue() {
    return again().isPresent() || dsl.fetchExists(KNOWN_ANEW) || dsl.fetchExists(late());
  }

  /** Whether so little is to be put right that a reader would wait for it. */
  boolean isLittle() {
    return isAtMost(LITTLE, dsl.selectOne().from(KNOWN_ANEW))
        && isAtMost(LITTLE, late())
        && again().filter(from -> !isAtMost(portion.firsts(), rows.firstsFrom(from))).isEmpty();
  }

  private boolean isAtMost(int most, SelectLimitStep<?> some) {
    return dsl.fetchCount(some.limit(most + 1)) <= most;
  }

  /** Puts one portion right; returns whether there was anything to do. */
  boolean correct() {
    return read(reasons(false), late().limit(REASONS).fetchMap(KNOWN_PENDING.RESPONSE_ID, DRILL_SITTING.PERSON_ID))
        || again().map(this::learnFirsts).isPresent()
        || read(reasons(true), Map.of());
  }

  /** The moment from which on first answers are to be learnt from anew. */
  private Optional<Instant> again() {
    return dsl.select(KNOWN_THROUGH.AGAIN_FROM).from(KNOWN_THROUGH).fetchOptional(KNOWN_THROUGH.AGAIN_FROM);
  }

  /** Answers that came in after others that were given later and are taken in already. */
  private SelectConditionStep<Record2<UUID, UUID>> late() {
    return dsl.select(KNOWN_PENDING.RESPONSE_ID, DRILL_SITTING.PERSON_ID)
        .from(KNOWN_PENDING)
        .join(DRILL_RESPONSE)
        .on(DRILL_RESPONSE.ID.eq(KNOWN_PENDING.RESPONSE_ID))
        .join(DRILL_SITTING)
        .on(DRILL_SITTING.ID.eq(DRILL_RESPONSE.SITTING_ID))
        .where(KNOWN_PENDING.ANSWERED_AT.le(KnownStore.through(dsl)));
  }

  /** Some of the reasons to read somebody's answers anew, with the person. */
  private Map<UUID, UUID> reasons(boolean afterFirsts) {
    return dsl.select(KNOWN_ANEW.ID, KNOWN_ANEW.PERSON_ID)
        .from(KNOWN_ANEW)
        .where(KNOWN_ANEW.AFTER_FIRSTS.eq(afterFirsts))
        .limit(REASONS)
        .fetchMap(KNOWN_ANEW.ID, KNOWN_ANEW.PERSON_ID);
  }

  // -- what each has answered

  /** Reads the answers of some of these people anew; returns whether there is anybody. */
  private boolean read(Map<UUID, UUID> reasons, Map<UUID, UUID> late) {
    Set<UUID> people = Stream.concat(reasons.values().stream(), late.values().stream())
        .distinct()
        .limit(portion.people())
        .collect(Collectors.toSet());
    dsl.deleteFrom(KNOWN_ANEW).where(KNOWN_ANEW.ID.in(about(people, reasons))).execute();
    dsl.deleteFrom(KNOWN_PENDING).where(KNOWN_PENDING.RESPONSE_ID.in(about(people, late))).execute();
    if (!people.isEmpty()) {
      read(people);
    }
    return !people.isEmpty();
  }

  private static List<UUID> about(Set<UUID> people, Map<UUID, UUID> reasons) {
    return reasons.entrySet().stream().filter(r -> people.contains(r.getValue())).map(Map.Entry::getKey).toList();
  }

  private void read(Set<UUID> people) {
    Knowledge knowledge = new Knowledge(model);
    rows.loadTerms(knowledge, people);
    Map<Pair, First> kept = rows.firstsOf(people);
    Map<Pair, First> outOfOrder = new HashMap<>();
    Map<Pair, Trace> traces = new HashMap<>();
    for (Given one : KnownAnswerStore.takenIn(dsl, people)) {
      Answered a = one.answered();
      Pair pair = new Pair(a.person(), a.part());
      Optional<Trace> before = Optional.ofNullable(traces.get(pair));
      Optional<First> first = Optional.ofNullable(kept.get(pair)).filter(f -> before.isEmpty() && f.isOf(one));
      KnownModel.Learned learned = first.map(First::learned).orElseGet(() -> model.after(
          knowledge.ability(a.person()), knowledge.difficulty(a.part()), before, a.asking(), a.credit(), a.at()));
      traces.put(pair, learned.trace());
      if (before.isEmpty() && first.isEmpty()) {
        outOfOrder.put(pair, new First(one.response(), a.credit(), learned));
      }
    }
    keepChanged(traces, people);
    keepOutOfOrder(outOfOrder, knowledge);
  }

  private void keepChanged(Map<Pair, Trace> traces, Set<UUID> people) {
    Knowledge kept = new Knowledge(model);
    rows.loadHolds(kept, people);
    Map<Pair, Trace> changed = new HashMap<>(traces);
    changed.entrySet().removeIf(
        t -> kept.trace(t.getKey().person(), t.getKey().part()).equals(Optional.of(t.getValue())));
    rows.keepHolds(changed);
  }

  private void keepOutOfOrder(Map<Pair, First> firsts, Knowledge knowledge) {
    Optional<Instant> from = firsts.values().stream().map(First::at).min(Comparator.naturalOrder());
    from.ifPresent(
        moment -> {
          // a row for each, which the end of learning anew fills
          rows.keepAbilities(KnownRowStore.each(firsts.keySet(), Pair::person, knowledge::ability));
          rows.keepDifficulties(KnownRowStore.each(firsts.keySet(), Pair::part, knowledge::difficulty));
          rows.keepFirsts(firsts);
          readAfterwards(firsts.keySet());
          learnAgainFrom(again().filter(moment::isAfter).orElse(moment));
        });
  }

  private void readAfterwards(Set<Pair> pairs) {
    Set<UUID> people = pairs.stream().map(Pair::person).collect(Collectors.toSet());
    people.removeAll(
        dsl.select(KNOWN_ANEW.PERSON_ID)
            .from(KNOWN_ANEW)
            .where(KNOWN_ANEW.AFTER_FIRSTS.isTrue(), KNOWN_ANEW.PERSON_ID.in(people))
            .fetchSet(KNOWN_ANEW.PERSON_ID));
    dsl.batchInsert(people.stream().map(p -> new KnownAnewRecord(UUID.randomUUID(), p, true)).toList()).execute();
  }

  // -- first answers

  private Instant learnFirsts(Instant from) {
    Map<Pair, First> firsts = rows.firstsFrom(from, portion.firsts());
    Set<UUID> people = firsts.keySet().stream().map(Pair::person).collect(Collectors.toSet());
    Knowledge knowledge = new Knowledge(model);
    rows.abilitiesBefore(from, KNOWN_ABILITY.PERSON_ID.in(people)).forEach(knowledge::put);
    rows.difficultiesBefore(from).forEach(knowledge::put);
    Map<Pair, First> changed = new HashMap<>();
    for (Given one : KnownAnswerStore.these(dsl, firsts.values().stream().map(First::response).toList())) {
      Answered a = one.answered();
      First now = new First(one.response(), a.credit(), knowledge.learn(a));
      changed.put(new Pair(a.person(), a.part()), now);
    }
    changed.entrySet().removeIf(f -> f.getValue().equals(firsts.get(f.getKey())));
    rows.keepFirsts(changed);
    readAfterwards(changed.keySet());
    if (firsts.size() < portion.firsts()) {
      keepTerms();
    } else {
      learnAgainFrom(firsts.values().stream().map(First::at).max(Comparator.naturalOrder()).orElseThrow().plus(TICK));
    }
    return from;
  }

  /** All first answers are learnt from: abilities and difficulties are those after the last of them. */
  private void keepTerms() {
    Instant end = KnownStore.through(dsl).plus(TICK);
    Condition changed = KNOWN_ABILITY.PERSON_ID.in(
        DSL.select(KNOWN_ANEW.PERSON_ID).from(KNOWN_ANEW).where(KNOWN_ANEW.AFTER_FIRSTS.isTrue()));
    rows.keepAbilities(rows.abilitiesBefore(end, changed));
    rows.keepDifficulties(rows.difficultiesBefore(end));
    dsl.update(KNOWN_THROUGH).setNull(KNOWN_THROUGH.AGAIN_FROM).execute();
  }

  private void learnAgainFrom(Instant moment) {
    dsl.update(KNOWN_THROUGH).set(KNOWN_THROUGH.AGAIN_FROM, moment).execute();
  }
}
