package ferrule.drill;

import static ferrule.store.jooq.Tables.DRILL_ASSIGNMENT;
import static ferrule.store.jooq.Tables.DRILL_DISPUTE;
import static ferrule.store.jooq.Tables.DRILL_ITEM;
import static ferrule.store.jooq.Tables.DRILL_REGRADE;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;

import ferrule.glossary.ConceptId;
import ferrule.people.NewEvidenceStore;
import ferrule.store.Database;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;
import java.util.Collection;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.Field;
import org.jooq.Record;
import org.jooq.SelectConditionStep;
import org.jooq.SelectSelectStep;
import org.jooq.exception.IntegrityConstraintViolationException;
import org.jooq.impl.DSL;

/**
 * Sittings and answers in the database. Sittings, items and answers are only ever added; what an answer
 * counts now follows from the latest regrade, or from its own outcome if there is none.
 *
 * <p>Every instant is given by the caller, so that a record can be made with the time at which it happened.
 */
public final class DrillStore {

  private static final Field<String> VERDICT = DSL.coalesce(DRILL_REGRADE.VERDICT, DRILL_RESPONSE.VERDICT);
  static final Field<Double> CREDIT = DSL.coalesce(DRILL_REGRADE.CREDIT, DRILL_RESPONSE.CREDIT);
  // a regrade without a part that it was taken for says that there is none: no coalesce here
  private static final Field<String> TAKEN_FOR =
      DSL.when(DRILL_REGRADE.ID.isNull(), DRILL_RESPONSE.TAKEN_FOR).otherwise(DRILL_REGRADE.TAKEN_FOR);
  private static final Field<String> REASON =
      DSL.when(DRILL_REGRADE.ID.isNull(), DRILL_RESPONSE.REASON).otherwise(DRILL_REGRADE.REASON);

  private static final int LATELY = 200;
  // what is asked of a part itself, not of the work on it
  private static final List<String> ABOUT_PARTS =
      Arrays.stream(ItemKind.values()).filter(ItemKind::asksAboutPart).map(ItemKind::word).toList();

  private final Database database;
  private final KnownStore known;
  // a sitting and its items never change, and are asked for with every question and answer
  private final Map<UUID, Sitting> taken = Collections.synchronizedMap(new LatestSittings());
  private final AssignmentStore assignments;

  /** A store over this database. */
  public DrillStore(Database database) {
    this.database = database;
    this.known = new KnownStore(database);
    this.assignments = new AssignmentStore(database);
  }

  /** What instructors have set. */
  public AssignmentStore assignments() {
    return assignments;
  }

  /** The sittings that were asked for last, as many as a school takes at a time. */
  private static final class LatestSittings extends LinkedHashMap<UUID, Sitting> {
    private static final long serialVersionUID = 1;
    private static final int MOST = 512;

    LatestSittings() {
      super(MOST, 0.75f, true);
    }

    @Override
    protected boolean removeEldestEntry(Map.Entry<UUID, Sitting> eldest) {
      return size() > MOST;
    }
  }

  /** What is known, as it follows from the answers that are kept here. */
  public KnownStore known() {
    return known;
  }

  // -- sittings

  /**
   * Opens a sitting. If the person has one already for the same assignment and attempt, that one is returned and
   * nothing is added, so that starting twice opens one.
   *
   * @return the sitting that is open now; empty if the assignment was taken back
   */
  public Optional<Sitting> open(Sitting wanted) {
    return database.inTransaction(
        dsl -> {
          if (wanted.assignment().isPresent()) {
            if (!AssignmentStore.lockStanding(dsl, wanted.assignment().get())) {
              return Optional.empty();
            }
            Optional<Sitting> earlier = sittingWhere(dsl, sameAttempt(wanted));
            if (earlier.isPresent()) {
              return earlier;
            }
          }
          insert(dsl, wanted);
          return Optional.of(wanted);
        });
  }

  private static Condition sameAttempt(Sitting s) {
    return DRILL_SITTING
        .ASSIGNMENT_ID
        .eq(s.assignment().orElseThrow())
        .and(DRILL_SITTING.PERSON_ID.eq(s.person()))
        .and(DRILL_SITTING.ATTEMPT.eq(s.attempt()));
  }

  private static void insert(DSLContext dsl, Sitting s) {
    dsl.insertInto(DRILL_SITTING)
        .set(DRILL_SITTING.ID, s.id())
        .set(DRILL_SITTING.PERSON_ID, s.person())
        .set(DRILL_SITTING.ASSIGNMENT_ID, s.assignment().orElse(null))
        .set(DRILL_SITTING.ATTEMPT, s.attempt())
        .set(DRILL_SITTING.TITLE, s.title())
        .set(DRILL_SITTING.PLAN, PlanDocument.write(s.plan()))
        .set(DRILL_SITTING.SEED, s.seed())
        .set(DRILL_SITTING.EDITION, s.edition())
        .set(DRILL_SITTING.STARTED_AT, s.startedAt())
        .execute();
    var rows =
        dsl.insertInto(
            DRILL_ITEM,
            DRILL_ITEM.SITTING_ID,
            DRILL_ITEM.POSITION,
            DRILL_ITEM.KIND,
            DRILL_ITEM.PART,
            DRILL_ITEM.VIEW_ID,
            DRILL_ITEM.VARIANTS,
            DRILL_ITEM.PICTURE_SEED,
            DRILL_ITEM.LIT,
            DRILL_ITEM.INTERACTION);
    for (Item i : s.items()) {
      String variants = i.variants().stream().sorted().collect(Collectors.joining(" "));
      rows =
          rows.values(
              s.id(), i.position(), i.kind().word(), i.key().value(), i.view(), variants, i.pictureSeed(),
              i.lit().map(ConceptId::value).orElse(null), InteractionDocument.write(i.interaction()));
    }
    rows.execute();
  }

  /** The sitting with this id, if there is one. */
  public Optional<Sitting> sitting(UUID id) {
    Optional<Sitting> known = Optional.ofNullable(taken.get(id));
    if (known.isPresent()) {
      return known;
    }
    Optional<Sitting> sitting = sittingWhere(database.dsl(), DRILL_SITTING.ID.eq(id));
    sitting.ifPresent(s -> taken.put(id, s));
    return sitting;
  }

  private static Optional<Sitting> sittingWhere(DSLContext dsl, Condition which) {
    return dsl.selectFrom(DRILL_SITTING)
        .where(which)
        .fetchOptional()
        .map(
            row ->
                new Sitting(
                    row.getId(),
                    row.getPersonId(),
                    Optional.ofNullable(row.getAssignmentId()),
                    row.getAttempt(),
                    row.getTitle(),
                    PlanDocument.read(row.getPlan()),
                    row.getSeed(),
                    row.getEdition(),
                    row.getStartedAt(),
                    itemsOf(dsl, row.getId())));
  }

  private static List<Item> itemsOf(DSLContext dsl, UUID sitting) {
    return dsl.selectFrom(DRILL_ITEM)
        .where(DRILL_ITEM.SITTING_ID.eq(sitting))
        .orderBy(DRILL_ITEM.POSITION)
        .fetch(DrillStore::toItem);
  }

  /** The sittings of a person, the latest first. */
  public List<SittingSummary> sittingsOf(UUID person) {
    return summaries(DRILL_SITTING.PERSON_ID.eq(person));
  }

  /** The sittings of an assignment, the latest first. */
  public List<SittingSummary> sittingsFor(UUID assignment) {
    return summaries(DRILL_SITTING.ASSIGNMENT_ID.eq(assignment));
  }

  /** A person's attempts at an assignment, the latest first. */
  List<SittingSummary> attempts(UUID assignment, UUID person) {
    return summaries(DRILL_SITTING.ASSIGNMENT_ID.eq(assignment).and(DRILL_SITTING.PERSON_ID.eq(person)));
  }

  /**
   * Where somebody is in a sitting.
   *
   * @param position the first item that is not answered
   * @param part the part that it is about
   * @param misses how many answers in a row before it were worth nothing
   */
  record Front(int position, ConceptId part, int misses) {}

  /** Where these sittings stand; one that is answered in full is left out. */
  Map<UUID, Front> fronts(Collection<UUID> sittings) {
    Map<UUID, Front> fronts = new HashMap<>();
    Map<UUID, Integer> misses = new HashMap<>();
    database
        .dsl()
        .select(DRILL_ITEM.SITTING_ID, DRILL_ITEM.POSITION, DRILL_ITEM.PART, CREDIT)
        .from(DRILL_ITEM)
        .leftJoin(DRILL_RESPONSE)
        .on(DRILL_RESPONSE.SITTING_ID.eq(DRILL_ITEM.SITTING_ID), DRILL_RESPONSE.POSITION.eq(DRILL_ITEM.POSITION))
        .leftJoin(DRILL_REGRADE)
        .on(latestRegrade())
        .where(DRILL_ITEM.SITTING_ID.in(sittings))
        .orderBy(DRILL_ITEM.SITTING_ID, DRILL_ITEM.POSITION)
        .forEach(
            row -> {
              UUID sitting = row.value1();
              Double credit = row.value4();
              if (credit != null) {
                misses.merge(sitting, credit > 0 ? 0 : 1, (before, one) -> one == 0 ? 0 : before + 1);
              } else {
                int inARow = misses.getOrDefault(sitting, 0);
                fronts.putIfAbsent(sitting, new Front(row.value2(), ConceptId.of(row.value3()), inARow));
              }
            });
    return fronts;
  }

  /** How far a sitting has come, if there is one with this id. */
  public Optional<SittingSummary> summary(UUID sitting) {
    return summaries(DRILL_SITTING.ID.eq(sitting)).stream().findFirst();
  }

  private List<SittingSummary> summaries(Condition which) {
    Field<Integer> length =
        DSL.field(
            DSL.select(DSL.count()).from(DRILL_ITEM).where(DRILL_ITEM.SITTING_ID.eq(DRILL_SITTING.ID)));
    Field<Integer> answered = DSL.count(DRILL_RESPONSE.ID);
    Field<Double> credit = DSL.coalesce(DSL.sum(CREDIT).cast(Double.class), 0.0);
    Field<Instant> last = DSL.max(DRILL_RESPONSE.ANSWERED_AT);
    return database
        .dsl()
        .select(
            DRILL_SITTING.ID,
            DRILL_SITTING.PERSON_ID,
            DRILL_SITTING.ASSIGNMENT_ID,
            DRILL_SITTING.ATTEMPT,
            DRILL_SITTING.TITLE,
            DRILL_SITTING.STARTED_AT,
            length,
            answered,
            credit,
            last)
        .from(DRILL_SITTING)
        .leftJoin(DRILL_RESPONSE)
        .on(DRILL_RESPONSE.SITTING_ID.eq(DRILL_SITTING.ID))
        .leftJoin(DRILL_REGRADE)
        .on(latestRegrade())
        .where(which)
        .groupBy(
            DRILL_SITTING.ID,
            DRILL_SITTING.PERSON_ID,
            DRILL_SITTING.ASSIGNMENT_ID,
            DRILL_SITTING.ATTEMPT,
            DRILL_SITTING.TITLE,
            DRILL_SITTING.STARTED_AT)
        .orderBy(DRILL_SITTING.STARTED_AT.desc(), DRILL_SITTING.ID)
        .fetch(
            row ->
                new SittingSummary(
                    row.value1(),
                    row.value2(),
                    Optional.ofNullable(row.value3()),
                    row.value4(),
                    row.value5(),
                    row.value6(),
                    row.value7(),
                    row.value8(),
                    row.value9(),
                    Optional.ofNullable(row.value10())));
  }

  static Condition latestRegrade() {
    var later = DRILL_REGRADE.as("later");
    // few answers are regraded: what is asked here is asked of those alone
    return DRILL_REGRADE
        .RESPONSE_ID
        .eq(DRILL_RESPONSE.ID)
        .and(
            DSL.notExists(
                DSL.selectOne()
                    .from(later)
                    .where(
                        later.RESPONSE_ID.eq(DRILL_REGRADE.RESPONSE_ID), later.ORDINAL.gt(DRILL_REGRADE.ORDINAL))));
  }

  // -- answers

  /** Keeps an answer as {@link #answer(UUID, Sitting, Item, Answer, Optional, Judge, Instant)}, whatever rulings say of it. */
  public Response answer(
      Sitting sitting, Item item, Answer answer, Optional<String> phrase, Outcome outcome, Instant at) {
    return answer(
        UUID.randomUUID(), sitting, item, answer, phrase, anew -> new Judgement(outcome, OptionalLong.empty()), at);
  }

  /**
   * Keeps the answer to an item and what follows of what is known, unless the item is answered already.
   *
   * @param id the id under which it is kept, which whoever sends it gives, so that sending it twice keeps it once
   * @param phrase the form of a typed name in which rulings compare it; empty for a place on the drawing
   * @param judge judges by the rulings; asked again if they are others when the answer is kept
   * @return the answer that is kept: this one, or the one that was first
   */
  Response answer(
      UUID id, Sitting sitting, Item item, Answer answer, Optional<String> phrase, Judge judge, Instant at) {
    Instant moment = asKept(at);
    try {
      Judgement judgement = judge.judge(false);
      while (!keep(id, sitting, item, answer, phrase, judgement, moment)) {
        judgement = judge.judge(true);
      }
      Outcome outcome = judgement.outcome();
      return new Response(id, sitting.id(), item, answer, outcome, outcome, Optional.empty(), false, moment);
    } catch (IntegrityConstraintViolationException e) {
      // somebody was faster: theirs is the one that counts, unless it is another rule that was broken
      return response(sitting.id(), item.position()).orElseThrow(() -> e);
    }
  }

  /** Judges an answer. */
  @FunctionalInterface
  interface Judge {

    /**
     * What the answer counts.
     *
     * @param anew whether the rulings by which it was judged did not hold any more
     */
    Judgement judge(boolean anew);
  }

  /** Keeps an answer unless the rulings are others by now; returns whether it is kept. */
  private boolean keep(
      UUID id, Sitting sitting, Item item, Answer answer, Optional<String> phrase, Judgement judgement, Instant at) {
    return database.besideOthers(
        dsl -> {
          boolean holds = RulingStore.holdsStill(dsl, sitting.id(), judgement);
          if (holds) {
            insert(dsl, id, sitting, item, answer, phrase, judgement.outcome(), at);
            KnownStore.note(dsl, id, item, at);
          }
          return holds;
        });
  }

  private static void insert(
      DSLContext dsl,
      UUID id,
      Sitting sitting,
      Item item,
      Answer answer,
      Optional<String> phrase,
      Outcome outcome,
      Instant at) {
    Optional<String> typed = answer instanceof Answer.Typed t ? Optional.of(t.text()) : Optional.empty();
    Optional<String> pointed =
        answer instanceof Answer.Pointed p ? p.part().map(ConceptId::value) : Optional.empty();
    dsl.insertInto(DRILL_RESPONSE)
        .set(DRILL_RESPONSE.ID, id)
        .set(DRILL_RESPONSE.SITTING_ID, sitting.id())
        .set(DRILL_RESPONSE.POSITION, item.position())
        .set(DRILL_RESPONSE.TYPED, typed.orElse(null))
        .set(DRILL_RESPONSE.PHRASE, phrase.orElse(null))
        .set(DRILL_RESPONSE.POINTED_AT, pointed.orElse(null))
        .set(DRILL_RESPONSE.CHOSEN, chosen(answer).orElse(null))
        .set(DRILL_RESPONSE.VERDICT, outcome.verdict())
        .set(DRILL_RESPONSE.CREDIT, outcome.credit())
        .set(DRILL_RESPONSE.REASON, outcome.reason())
        .set(DRILL_RESPONSE.TAKEN_FOR, outcome.takenFor().map(ConceptId::value).orElse(null))
        .set(DRILL_RESPONSE.ANSWERED_AT, at)
        .execute();
    // the one kind of answer that competencies rest on
    if (item.kind() == ItemKind.NAME) {
      LastNamedStore.note(dsl, sitting.person(), item.key(), id, outcome.credit(), at);
      NewEvidenceStore.note(dsl, sitting.person(), at);
    }
  }

  /**
   * Notes, for whoever makes an answer count otherwise from a moment on, that this is new evidence about its giver and of
   * what they know.
   */
  public static void noteRegrade(DSLContext dsl, UUID response, UUID regrade, Instant at) {
    KnownStore.noteRegrade(dsl, response, regrade);
    NewEvidenceStore.note(
        dsl,
        DSL.select(DRILL_SITTING.PERSON_ID)
            .from(DRILL_SITTING)
            .join(DRILL_RESPONSE)
            .on(DRILL_RESPONSE.SITTING_ID.eq(DRILL_SITTING.ID))
            .where(DRILL_RESPONSE.ID.eq(response)),
        at);
  }

  /** Adds a sitting within a transaction of the caller's, for papers that are entered as a whole. */
  public void addSitting(DSLContext dsl, Sitting sitting) {
    insert(dsl, sitting);
  }

  /**
   * Adds an answer, and what follows of what is known, within a transaction of the caller's.
   *
   * @return the answer's id
   */
  public UUID addResponse(
      DSLContext dsl, Sitting sitting, Item item, Answer answer, Optional<String> phrase, Outcome outcome, Instant at) {
    UUID id = UUID.randomUUID();
    insert(dsl, id, sitting, item, answer, phrase, outcome, asKept(at));
    KnownStore.note(dsl, id, item, asKept(at));
    return id;
  }

  /** No finer than databases keep it, so that it is the same wherever it is kept and compared. */
  private static Instant asKept(Instant at) {
    return at.truncatedTo(ChronoUnit.MICROS);
  }

  private static Optional<String> chosen(Answer answer) {
    if (answer instanceof Answer.Ordered ordered) {
      return Optional.of(String.join(" ", ordered.steps())).filter(steps -> !steps.isEmpty());
    }
    return answer instanceof Answer.Chosen c ? c.option() : Optional.empty();
  }

  /** The answers of a sitting, by position. */
  public List<Response> responses(UUID sitting) {
    return responsesWhere(DRILL_RESPONSE.SITTING_ID.eq(sitting)).fetch(DrillStore::toResponse);
  }

  /** The positions of the items of a sitting that are answered. */
  Set<Integer> answered(UUID sitting) {
    return database
        .dsl()
        .select(DRILL_RESPONSE.POSITION)
        .from(DRILL_RESPONSE)
        .where(DRILL_RESPONSE.SITTING_ID.eq(sitting))
        .fetchSet(DRILL_RESPONSE.POSITION);
  }

  /** The answer to one item, if it is answered. */
  public Optional<Response> response(UUID sitting, int position) {
    return responsesWhere(DRILL_RESPONSE.SITTING_ID.eq(sitting).and(DRILL_RESPONSE.POSITION.eq(position)))
        .fetchOptional(DrillStore::toResponse);
  }

  private SelectConditionStep<? extends Record> responsesWhere(Condition which) {
    return responsesWhere(database.dsl(), which);
  }

  static SelectConditionStep<? extends Record> responsesWhere(DSLContext dsl, Condition which) {
    return dsl.select(DRILL_RESPONSE.fields())
        .select(DRILL_ITEM.KIND, DRILL_ITEM.PART, DRILL_ITEM.VIEW_ID, DRILL_ITEM.VARIANTS, DRILL_ITEM.PICTURE_SEED)
        .select(DRILL_ITEM.LIT, DRILL_ITEM.INTERACTION)
        .select(DRILL_REGRADE.ID, DRILL_REGRADE.RULING_ID, DRILL_DISPUTE.RAISED_AT, DRILL_SITTING.PERSON_ID)
        .select(VERDICT.as("verdict_now"), CREDIT.as("credit_now"))
        .select(REASON.as("reason_now"), TAKEN_FOR.as("taken_for_now"))
        .from(DRILL_RESPONSE)
        .join(DRILL_ITEM)
        .on(DRILL_ITEM.SITTING_ID.eq(DRILL_RESPONSE.SITTING_ID), DRILL_ITEM.POSITION.eq(DRILL_RESPONSE.POSITION))
        .join(DRILL_SITTING)
        .on(DRILL_SITTING.ID.eq(DRILL_RESPONSE.SITTING_ID))
        .leftJoin(DRILL_REGRADE)
        .on(latestRegrade())
        .leftJoin(DRILL_DISPUTE)
        .on(DRILL_DISPUTE.RESPONSE_ID.eq(DRILL_RESPONSE.ID))
        .where(which);
  }

  /** Keeps that the apprentice thinks that an answer was right; saying it twice changes nothing. */
  public void dispute(UUID response, Instant at) {
    database
        .dsl()
        .insertInto(DRILL_DISPUTE)
        .set(DRILL_DISPUTE.RESPONSE_ID, response)
        .set(DRILL_DISPUTE.RAISED_AT, at)
        .onConflictDoNothing()
        .execute();
  }

  // -- what a class knows

  /** Which part was taken for which in the sittings of these assignments, the most often first. */
  public List<MixUp> mixUps(Collection<UUID> assignments) {
    return mixUpsWhere(DRILL_SITTING.ASSIGNMENT_ID.in(assignments));
  }

  /** Which part was taken for which in these sittings, the most often first. */
  public List<MixUp> mixUpsIn(Collection<UUID> sittings) {
    return mixUpsWhere(DRILL_SITTING.ID.in(sittings));
  }

  private List<MixUp> mixUpsWhere(Condition which) {
    Field<Integer> times = DSL.count();
    Field<Integer> people = DSL.countDistinct(DRILL_SITTING.PERSON_ID);
    return answered(database.dsl().select(DRILL_ITEM.PART, TAKEN_FOR, times, people), which.and(TAKEN_FOR.isNotNull()))
        .groupBy(DRILL_ITEM.PART, TAKEN_FOR)
        .orderBy(times.desc(), people.desc(), DRILL_ITEM.PART, TAKEN_FOR)
        .fetch(
            row ->
                new MixUp(
                    ConceptId.of(row.value1()), ConceptId.of(row.value2()), row.value3(), row.value4()));
  }

  /** How often the class that an assignment is set for took each part for which other, in all of its drills. */
  Map<ConceptId, Map<ConceptId, Integer>> mixedUpInClassOf(UUID assignment) {
    var own = DRILL_ASSIGNMENT.as("own");
    return mixedUp(
        DRILL_SITTING.ASSIGNMENT_ID.in(
            DSL.select(DRILL_ASSIGNMENT.ID)
                .from(DRILL_ASSIGNMENT)
                .join(own)
                .on(own.COHORT_ID.eq(DRILL_ASSIGNMENT.COHORT_ID))
                .where(own.ID.eq(assignment))));
  }

  /** How often an apprentice took each part for which other. */
  Map<ConceptId, Map<ConceptId, Integer>> mixedUpBy(UUID person) {
    return mixedUp(DRILL_SITTING.PERSON_ID.eq(person));
  }

  private Map<ConceptId, Map<ConceptId, Integer>> mixedUp(Condition which) {
    Map<ConceptId, Map<ConceptId, Integer>> found = new HashMap<>();
    answered(database.dsl().select(DRILL_ITEM.PART, TAKEN_FOR, DSL.count()), which.and(TAKEN_FOR.isNotNull()))
        .groupBy(DRILL_ITEM.PART, TAKEN_FOR)
        .forEach(
            row ->
                found
                    .computeIfAbsent(ConceptId.of(row.value1()), part -> new HashMap<>())
                    .put(ConceptId.of(row.value2()), row.value3()));
    return found;
  }

  /** The parts that an apprentice's last answer was not right about, the latest answers only. */
  Set<ConceptId> failedLately(UUID person) {
    Map<ConceptId, Boolean> failed = new LinkedHashMap<>();
    answered(database.dsl().select(DRILL_ITEM.PART, CREDIT), DRILL_SITTING.PERSON_ID.eq(person))
        .orderBy(DRILL_RESPONSE.ANSWERED_AT.desc(), DRILL_RESPONSE.POSITION.desc())
        .limit(LATELY)
        .forEach(row -> failed.putIfAbsent(ConceptId.of(row.value1()), row.value2() < 1));
    failed.values().removeIf(f -> !f);
    return failed.keySet();
  }

  /** How each part was answered in the sittings of these assignments, the hardest first. */
  public List<PartTally> partTallies(Collection<UUID> assignments) {
    Field<Double> credit = DSL.sum(CREDIT).cast(Double.class);
    Field<Double> facility = DSL.avg(CREDIT).cast(Double.class);
    return tallied(database.dsl().select(DRILL_ITEM.PART, DSL.count(), credit), assignments, DRILL_ITEM.KIND.in(ABOUT_PARTS))
        .groupBy(DRILL_ITEM.PART)
        .orderBy(facility, DSL.count().desc(), DRILL_ITEM.PART)
        .fetch(row -> new PartTally(ConceptId.of(row.value1()), row.value2(), row.value3()));
  }

  /** Each person's first answer to each question about a part in these assignments, in the order in which they came. */
  public List<Scored> firstAnswers(Collection<UUID> assignments) {
    Field<Integer> turn = DSL.rowNumber()
        .over(
            DSL.partitionBy(DRILL_SITTING.PERSON_ID, DRILL_ITEM.KIND, DRILL_ITEM.PART)
                .orderBy(DRILL_RESPONSE.ANSWERED_AT, DRILL_RESPONSE.ID))
        .as("turn");
    var answers =
        tallied(
                DSL.select(
                    DRILL_SITTING.PERSON_ID.as("person"), DRILL_ITEM.KIND.as("kind"), DRILL_ITEM.PART.as("part"),
                    CREDIT.as("credit"), DRILL_RESPONSE.ANSWERED_AT.as("answered_at"), DRILL_RESPONSE.ID.as("id"), turn),
                assignments,
                DRILL_ITEM.KIND.in(ABOUT_PARTS))
            .asTable("answers");
    return database
        .dsl()
        .select(
            answers.field("person", UUID.class), answers.field("kind", String.class), answers.field("part", String.class),
            answers.field("credit", Double.class))
        .from(answers)
        .where(answers.field("turn", Integer.class).eq(1))
        .orderBy(answers.field("answered_at"), answers.field("id"))
        .fetch(
            row ->
                new Scored(row.value1(), ItemKind.parse(row.value2()), ConceptId.of(row.value3()), row.value4()));
  }

  /** An answer and who gave it. */
  public record Given(UUID person, Response response) {}

  /** Each person's first answer in each way in which these assignments asked about a part, in the order in which they came. */
  public List<Given> firstAnswersAbout(ConceptId part, Collection<UUID> assignments) {
    Map<List<Object>, Given> first = new LinkedHashMap<>();
    responsesWhere(
            DRILL_SITTING.ASSIGNMENT_ID.in(assignments)
                .and(DRILL_ITEM.PART.eq(part.value()))
                .and(DRILL_ITEM.KIND.in(ABOUT_PARTS)))
        .orderBy(DRILL_RESPONSE.ANSWERED_AT, DRILL_RESPONSE.ID)
        .forEach(
            row -> {
              Given given = new Given(row.get(DRILL_SITTING.PERSON_ID), toResponse(row));
              first.putIfAbsent(List.of(given.person(), given.response().item().kind()), given);
            });
    return List.copyOf(first.values());
  }

  private static <R extends Record> SelectConditionStep<R> tallied(
      SelectSelectStep<R> select, Collection<UUID> assignments, Condition which) {
    return answered(select, DRILL_SITTING.ASSIGNMENT_ID.in(assignments).and(which));
  }

  /** Of answers, each with its item, its sitting and the regrade that holds. */
  static <R extends Record> SelectConditionStep<R> answered(SelectSelectStep<R> select, Condition which) {
    return select
        .from(DRILL_RESPONSE)
        .join(DRILL_ITEM)
        .on(DRILL_ITEM.SITTING_ID.eq(DRILL_RESPONSE.SITTING_ID), DRILL_ITEM.POSITION.eq(DRILL_RESPONSE.POSITION))
        .join(DRILL_SITTING)
        .on(DRILL_SITTING.ID.eq(DRILL_RESPONSE.SITTING_ID))
        .leftJoin(DRILL_REGRADE)
        .on(latestRegrade())
        .where(which);
  }

  // -- rows

  static Response toResponse(Record row) {
    Item item = toItem(row);
    Answer answer = toAnswer(item.kind(), row);
    Outcome first =
        new Outcome(
            row.get(DRILL_RESPONSE.VERDICT),
            row.get(DRILL_RESPONSE.CREDIT),
            row.get(DRILL_RESPONSE.REASON),
            part(row.get(DRILL_RESPONSE.TAKEN_FOR)));
    Outcome now =
        new Outcome(
            row.get("verdict_now", String.class),
            row.get("credit_now", Double.class),
            row.get("reason_now", String.class),
            part(row.get("taken_for_now", String.class)));
    return new Response(
        row.get(DRILL_RESPONSE.ID),
        row.get(DRILL_RESPONSE.SITTING_ID),
        item,
        answer,
        first,
        now,
        Optional.ofNullable(row.get(DRILL_REGRADE.RULING_ID)),
        row.get(DRILL_DISPUTE.RAISED_AT) != null,
        row.get(DRILL_RESPONSE.ANSWERED_AT));
  }

  private static Answer toAnswer(ItemKind kind, Record row) {
    Optional<String> chosen = Optional.ofNullable(row.get(DRILL_RESPONSE.CHOSEN));
    if (kind.isTyped()) {
      return new Answer.Typed(row.get(DRILL_RESPONSE.TYPED));
    }
    if (kind.isPointed()) {
      return new Answer.Pointed(part(row.get(DRILL_RESPONSE.POINTED_AT)));
    }
    return kind.isChosen()
        ? new Answer.Chosen(chosen)
        : new Answer.Ordered(chosen.map(steps -> List.of(steps.split(" "))).orElse(List.of()));
  }

  private static Optional<ConceptId> part(String id) {
    return Optional.ofNullable(id).map(ConceptId::of);
  }

  private static Item toItem(Record row) {
    int position = row.get(DRILL_ITEM.POSITION);
    ItemKind kind = ItemKind.parse(row.get(DRILL_ITEM.KIND));
    ConceptId key = ConceptId.of(row.get(DRILL_ITEM.PART));
    String view = row.get(DRILL_ITEM.VIEW_ID);
    String joined = row.get(DRILL_ITEM.VARIANTS);
    Set<String> variants = joined.isEmpty() ? Set.of() : Set.copyOf(Arrays.asList(joined.split(" ")));
    long pictureSeed = row.get(DRILL_ITEM.PICTURE_SEED);
    String interaction = row.get(DRILL_ITEM.INTERACTION);
    return interaction == null
        ? new Item(position, kind, key, view, variants, pictureSeed)
        : new Item(
            position,
            kind,
            key,
            view,
            variants,
            pictureSeed,
            part(row.get(DRILL_ITEM.LIT)),
            InteractionDocument.read(kind, interaction));
  }
}
