package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;
import static ferrule.store.jooq.Tables.KNOWN_ANEW;
import static ferrule.store.jooq.Tables.KNOWN_PENDING;
import static ferrule.store.jooq.Tables.KNOWN_THROUGH;

import ferrule.drill.KnownAnswerStore.Given;
import ferrule.drill.KnownRowStore.First;
import ferrule.drill.KnownRowStore.Pair;
import ferrule.drill.known.Answered;
import ferrule.drill.known.Knowledge;
import ferrule.drill.known.KnownModel;
import ferrule.drill.known.Trace;
import ferrule.glossary.ConceptId;
import ferrule.store.Database;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jooq.DSLContext;
import org.jooq.impl.DSL;

/**
 * What is known, in the database: a summary of the answers that follows from them at any time.
 *
 * <p>The transaction that keeps an answer only notes that it is there, so that people who answer at once wait for
 * nobody. Every few seconds, and before what is known is read, the noted answers are taken into the summary in the order
 * in which they were given. The latest stay noted for {@link #SETTLED}, since another node may keep one that was given
 * before them a moment later; whoever reads takes those in for themselves. If an answer comes later still, or counts
 * otherwise than when it was taken in, a {@link KnownCorrectionStore} puts the summary right. All of that goes in
 * portions, each a short transaction. Who reads while much is to be put right does not wait for it and is told what is
 * known so far. Whoever changes the summary holds the lock of one row, so that several nodes agree.
 */
public final class KnownStore {

  /** How much later than the next an answer may be kept and still be taken in in its order. */
  static final Duration SETTLED = Duration.ofSeconds(10);

  private final Database database;
  private final Portion portion;
  private final KnownModel model = KnownModel.standard();

  /**
   * How much is done in one transaction.
   *
   * @param answers how many are taken in
   * @param firsts how many first answers are learnt from anew
   * @param people of how many all answers are read anew
   */
  record Portion(int answers, int firsts, int people) {

    static final Portion USUAL = new Portion(500, 500, 3);
  }

  /** A store over this database. */
  public KnownStore(Database database) {
    this(database, Portion.USUAL);
  }

  /** A store that does as much at a time. */
  KnownStore(Database database, Portion portion) {
    this.database = database;
    this.portion = portion;
  }

  // -- reading

  /**
   * What is known of these people, as it follows from every answer that was given and what it counts now; where more is
   * to be put right than one would wait for, as it was known before that.
   */
  public Knowledge knowledge(Collection<UUID> people) {
    boolean more = true;
    while (more) {
      more = database.reading(dsl -> new KnownCorrectionStore(dsl, model, portion).isLittle()) && takeSomeIn();
    }
    return database.reading(dsl -> withNoted(dsl, people));
  }

  private Knowledge withNoted(DSLContext dsl, Collection<UUID> people) {
    List<Given> noted = KnownAnswerStore.waiting(dsl, through(dsl));
    Set<UUID> all = new HashSet<>(people);
    noted.forEach(n -> all.add(n.answered().person()));
    Knowledge knowledge = new Knowledge(model);
    KnownRowStore rows = new KnownRowStore(dsl);
    rows.loadTerms(knowledge, all);
    rows.loadHolds(knowledge, all);
    noted.forEach(n -> knowledge.learn(n.answered()));
    return knowledge;
  }

  // -- noting

  /** Notes an answer, within the transaction that keeps it. */
  static void note(DSLContext dsl, UUID response, Item item, Instant at) {
    if (KnownAnswerStore.asking(item.kind()).isPresent()) {
      dsl.insertInto(KNOWN_PENDING).values(response, at).execute();
    }
  }

  /** Notes that an answer counts otherwise, within the transaction that keeps the regrade. */
  static void noteRegrade(DSLContext dsl, UUID response, UUID regrade) {
    dsl.insertInto(KNOWN_ANEW)
        .select(
            DSL.select(DSL.val(regrade), DRILL_SITTING.PERSON_ID, DSL.val(false))
                .from(DRILL_SITTING)
                .join(DRILL_RESPONSE)
                .on(DRILL_RESPONSE.SITTING_ID.eq(DRILL_SITTING.ID))
                .where(DRILL_RESPONSE.ID.eq(response)))
        .execute();
  }

  // -- taking answers in

  /**
   * Does one portion of what is to do, so that whoever reads next has little to do: takes the first of the noted answers in
   * that are settled, or else puts right what follows from earlier ones. Returns whether there was anything to do.
   */
  public boolean takeSomeIn() {
    // asked before writing, which in an embedded database only one may do at a time
    return database.reading(dsl -> !settled(dsl).isEmpty() || new KnownCorrectionStore(dsl, model, portion).isDue())
        && database.inTransaction(this::takeSomeIn);
  }

  private boolean takeSomeIn(DSLContext dsl) {
    dsl.selectFrom(KNOWN_THROUGH).forUpdate().fetchSingle();
    List<UUID> settled = settled(dsl);
    if (settled.isEmpty()) {
      return new KnownCorrectionStore(dsl, model, portion).correct();
    }
    learn(dsl, KnownAnswerStore.these(dsl, settled));
    dsl.deleteFrom(KNOWN_PENDING).where(KnownAnswerStore.isOneOf(KNOWN_PENDING.RESPONSE_ID, settled)).execute();
    return true;
  }

  /** The moment of the last answer that was taken in; long ago if there is none. */
  static Instant through(DSLContext dsl) {
    Instant last = dsl.select(KNOWN_THROUGH.LAST_AT).from(KNOWN_THROUGH).fetchSingle().value1();
    return last == null ? Instant.EPOCH : last;
  }

  private List<UUID> settled(DSLContext dsl) {
    Instant latest = dsl.select(DSL.max(KNOWN_PENDING.ANSWERED_AT)).from(KNOWN_PENDING).fetchSingle().value1();
    return latest == null ? List.of() : dsl.select(KNOWN_PENDING.RESPONSE_ID)
        .from(KNOWN_PENDING)
        .where(KNOWN_PENDING.ANSWERED_AT.lt(latest.minus(SETTLED)), KNOWN_PENDING.ANSWERED_AT.gt(through(dsl)))
        .orderBy(KNOWN_PENDING.ANSWERED_AT, KNOWN_PENDING.RESPONSE_ID)
        .limit(portion.answers())
        .fetch(KNOWN_PENDING.RESPONSE_ID);
  }

  private void learn(DSLContext dsl, List<Given> given) {
    List<Answered> answers = given.stream().map(Given::answered).toList();
    KnownRowStore rows = new KnownRowStore(dsl);
    Knowledge knowledge = new Knowledge(model);
    rows.loadTerms(knowledge, distinct(answers, Answered::person));
    rows.loadHoldsOf(knowledge, distinct(answers, a -> new Pair(a.person(), a.part())));
    Map<Pair, First> firsts = new HashMap<>();
    Map<Pair, Trace> traces = new HashMap<>();
    for (Given one : given) {
      Answered a = one.answered();
      boolean first = knowledge.trace(a.person(), a.part()).isEmpty();
      KnownModel.Learned learned = knowledge.learn(a);
      Pair pair = new Pair(a.person(), a.part());
      traces.put(pair, learned.trace());
      if (first) {
        firsts.put(pair, new First(one.response(), a.credit(), learned));
      }
    }
    rows.keepAbilities(KnownRowStore.each(firsts.keySet(), Pair::person, knowledge::ability));
    rows.keepDifficulties(KnownRowStore.each(firsts.keySet(), Pair::part, knowledge::difficulty));
    rows.keepFirsts(firsts);
    rows.keepHolds(traces);
    dsl.update(KNOWN_THROUGH).set(KNOWN_THROUGH.LAST_AT, answers.get(answers.size() - 1).at()).execute();
  }

  private static <T> Set<T> distinct(List<Answered> answers, Function<Answered, T> of) {
    return answers.stream().map(of).collect(Collectors.toSet());
  }
}
