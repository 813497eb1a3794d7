package ferrule.drill.paper;

import static ferrule.store.jooq.Tables.DRILL_REGRADE;
import static ferrule.store.jooq.Tables.DRILL_RESPONSE;
import static ferrule.store.jooq.Tables.DRILL_SITTING;
import static ferrule.store.jooq.Tables.PAPER_CORRECTION;
import static ferrule.store.jooq.Tables.PAPER_ENTRY;
import static ferrule.store.jooq.Tables.PAPER_ITEM;
import static ferrule.store.jooq.Tables.PAPER_SCRIPT;
import static ferrule.store.jooq.Tables.PAPER_SHEET;
import static ferrule.store.jooq.Tables.PAPER_TAP;

import ferrule.drill.DrillStore;
import ferrule.drill.Item;
import ferrule.drill.Marker;
import ferrule.drill.Outcome;
import ferrule.drill.PlanDocument;
import ferrule.drill.Response;
import ferrule.drill.Sitting;
import ferrule.glossary.ConceptId;
import ferrule.store.Database;
import ferrule.store.jooq.tables.records.PaperScriptRecord;
import ferrule.store.jooq.tables.records.PaperSheetRecord;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.impl.DSL;

/**
 * Worksheets and what is entered from them, in the database. A worksheet, an entered answer and a correction are only
 * ever added; taps are a draft until the paper is entered.
 */
public final class PaperStore {

  private final Database database;
  private final DrillStore drills;

  /** A store over this database. */
  public PaperStore(Database database, DrillStore drills) {
    this.database = database;
    this.drills = drills;
  }

  // -- worksheets

  /** Adds a worksheet. */
  public void add(Worksheet w) {
    database.transact(
        dsl -> {
          dsl.insertInto(PAPER_SHEET)
              .set(PAPER_SHEET.ID, w.id())
              .set(PAPER_SHEET.COHORT_ID, w.cohort())
              .set(PAPER_SHEET.ASSIGNMENT_ID, w.assignment().orElse(null))
              .set(PAPER_SHEET.TITLE, w.title())
              .set(PAPER_SHEET.SCHOOL, w.school())
              .set(PAPER_SHEET.PLAN, PlanDocument.write(w.plan()))
              .set(PAPER_SHEET.SEED, w.seed())
              .set(PAPER_SHEET.EDITION, w.edition())
              .set(PAPER_SHEET.MADE_BY, w.madeBy())
              .set(PAPER_SHEET.MADE_AT, w.madeAt())
              .execute();
          var rows =
              dsl.insertInto(
                  PAPER_ITEM, PAPER_ITEM.SHEET_ID, PAPER_ITEM.VERSION, PAPER_ITEM.NUMBER, PAPER_ITEM.ITEM);
          for (Version v : w.versions()) {
            for (Item i : v.items()) {
              rows = rows.values(w.id(), v.letter(), i.position(), ItemDocument.write(i));
            }
          }
          rows.execute();
        });
  }

  /** The worksheets, the latest first. */
  public List<Worksheet> worksheets() {
    return worksheets(DSL.noCondition());
  }

  /** The worksheet with this id, if there is one. */
  public Optional<Worksheet> worksheet(UUID id) {
    return worksheets(PAPER_SHEET.ID.eq(id)).stream().findFirst();
  }

  /** The worksheets that were made from a drill, the latest first. */
  public List<Worksheet> worksheetsOf(UUID assignment) {
    return worksheets(PAPER_SHEET.ASSIGNMENT_ID.eq(assignment));
  }

  private List<Worksheet> worksheets(Condition which) {
    DSLContext dsl = database.dsl();
    return dsl.selectFrom(PAPER_SHEET)
        .where(which)
        .orderBy(PAPER_SHEET.MADE_AT.desc(), PAPER_SHEET.ID)
        .fetch(row -> toWorksheet(dsl, row));
  }

  private static Worksheet toWorksheet(DSLContext dsl, PaperSheetRecord row) {
    Map<String, List<Item>> items = new LinkedHashMap<>();
    dsl.selectFrom(PAPER_ITEM)
        .where(PAPER_ITEM.SHEET_ID.eq(row.getId()))
        .orderBy(PAPER_ITEM.VERSION, PAPER_ITEM.NUMBER)
        .forEach(
            i ->
                items
                    .computeIfAbsent(i.getVersion(), v -> new ArrayList<>())
                    .add(ItemDocument.read(i.getNumber(), i.getItem())));
    return new Worksheet(
        row.getId(),
        row.getCohortId(),
        Optional.ofNullable(row.getAssignmentId()),
        row.getTitle(),
        row.getSchool(),
        PlanDocument.read(row.getPlan()),
        row.getSeed(),
        row.getEdition(),
        row.getMadeBy(),
        row.getMadeAt(),
        items.entrySet().stream().map(v -> new Version(v.getKey(), v.getValue())).toList());
  }

  // -- the draft

  /** The papers of a worksheet that somebody has begun to enter, by person. */
  public Map<UUID, Script> scripts(UUID sheet) {
    Map<UUID, Script> scripts = new LinkedHashMap<>();
    database
        .dsl()
        .selectFrom(PAPER_SCRIPT)
        .where(PAPER_SCRIPT.SHEET_ID.eq(sheet))
        .forEach(row -> scripts.put(row.getPersonId(), toScript(database.dsl(), row)));
    return scripts;
  }

  /** One person's paper, if somebody has begun to enter it. */
  public Optional<Script> script(UUID sheet, UUID person) {
    return script(database.dsl(), sheet, person);
  }

  private static Optional<Script> script(DSLContext dsl, UUID sheet, UUID person) {
    return dsl.selectFrom(PAPER_SCRIPT)
        .where(PAPER_SCRIPT.SHEET_ID.eq(sheet), PAPER_SCRIPT.PERSON_ID.eq(person))
        .fetchOptional()
        .map(row -> toScript(dsl, row));
  }

  private static Script toScript(DSLContext dsl, PaperScriptRecord row) {
    Map<Integer, Tap> taps = new LinkedHashMap<>();
    int[] steps = {0};
    dsl.selectFrom(PAPER_TAP)
        .where(PAPER_TAP.SHEET_ID.eq(row.getSheetId()), PAPER_TAP.PERSON_ID.eq(row.getPersonId()))
        .orderBy(PAPER_TAP.STEP, PAPER_TAP.NUMBER)
        .forEach(
            t -> {
              taps.put(t.getNumber(), new Tap(t.getNumber(), Mark.find(t.getMark()).orElseThrow(), t.getWritten()));
              steps[0] = t.getStep();
            });
    return new Script(
        row.getSheetId(),
        row.getPersonId(),
        row.getVersion(),
        taps,
        steps[0],
        Optional.ofNullable(row.getSittingId()),
        Optional.ofNullable(row.getEnteredBy()),
        Optional.ofNullable(row.getEnteredAt()));
  }

  /**
   * Says which version somebody has written on; what was tapped for another version goes, because its numbers mean other
   * parts.
   *
   * @return false, with nothing changed, if the paper is entered already
   */
  public boolean begin(UUID sheet, UUID person, String version) {
    return database.inTransaction(
        dsl -> {
          dsl.insertInto(PAPER_SCRIPT)
              .set(PAPER_SCRIPT.SHEET_ID, sheet)
              .set(PAPER_SCRIPT.PERSON_ID, person)
              .set(PAPER_SCRIPT.VERSION, version)
              .onConflictDoNothing()
              .execute();
          Script script = locked(dsl, sheet, person);
          if (script.isEntered()) {
            return false;
          }
          if (!script.version().equals(version)) {
            dsl.deleteFrom(PAPER_TAP).where(PAPER_TAP.SHEET_ID.eq(sheet), PAPER_TAP.PERSON_ID.eq(person)).execute();
            dsl.update(PAPER_SCRIPT)
                .set(PAPER_SCRIPT.VERSION, version)
                .where(PAPER_SCRIPT.SHEET_ID.eq(sheet), PAPER_SCRIPT.PERSON_ID.eq(person))
                .execute();
          }
          return true;
        });
  }

  private static Script locked(DSLContext dsl, UUID sheet, UUID person) {
    dsl.select(PAPER_SCRIPT.VERSION)
        .from(PAPER_SCRIPT)
        .where(PAPER_SCRIPT.SHEET_ID.eq(sheet), PAPER_SCRIPT.PERSON_ID.eq(person))
        .forUpdate()
        .fetchSingle();
    return script(dsl, sheet, person).orElseThrow();
  }

  /**
   * Keeps taps as one step that can be undone. A tap that says what holds already adds nothing, so that a double tap is
   * one.
   *
   * @return the paper now; empty, with nothing changed, if it is entered already
   */
  public Optional<Script> tap(UUID sheet, UUID person, List<Tap> taps, UUID by, Instant at) {
    return database.inTransaction(
        dsl -> {
          Script script = locked(dsl, sheet, person);
          if (script.isEntered()) {
            return Optional.empty();
          }
          for (Tap tap : taps) {
            if (!tap.equals(script.taps().get(tap.number()))) {
              dsl.insertInto(PAPER_TAP)
                  .set(PAPER_TAP.SHEET_ID, sheet)
                  .set(PAPER_TAP.PERSON_ID, person)
                  .set(PAPER_TAP.STEP, script.steps() + 1)
                  .set(PAPER_TAP.NUMBER, tap.number())
                  .set(PAPER_TAP.MARK, tap.mark().word())
                  .set(PAPER_TAP.WRITTEN, tap.written())
                  .set(PAPER_TAP.TAPPED_BY, by)
                  .set(PAPER_TAP.TAPPED_AT, at)
                  .execute();
            }
          }
          return script(dsl, sheet, person);
        });
  }

  /** Takes the last step back; empty, with nothing changed, if the paper is entered already. */
  public Optional<Script> undo(UUID sheet, UUID person) {
    return database.inTransaction(
        dsl -> {
          Script script = locked(dsl, sheet, person);
          if (script.isEntered()) {
            return Optional.empty();
          }
          dsl.deleteFrom(PAPER_TAP)
              .where(PAPER_TAP.SHEET_ID.eq(sheet), PAPER_TAP.PERSON_ID.eq(person))
              .and(PAPER_TAP.STEP.eq(script.steps()))
              .execute();
          return script(dsl, sheet, person);
        });
  }

  // -- entering

  /** An answer with what it counts, ready to be kept. */
  record Entry(Item item, Tap tap, Outcome outcome) {}

  /**
   * Enters a paper: it becomes a sitting of its apprentice, whose answers count from now on.
   *
   * @param sitting the sitting, the attempt of which is set to the next that is free
   * @param answeredAt when the paper was written
   * @return false, with nothing changed, if it is entered already or was marked otherwise meanwhile
   */
  boolean enter(UUID sheet, Sitting sitting, List<Entry> entries, UUID by, Instant answeredAt, Instant at) {
    return database.inTransaction(
        dsl -> {
          Script script = locked(dsl, sheet, sitting.person());
          if (script.isEntered() || entries.stream().anyMatch(e -> !e.tap().equals(script.taps().get(e.tap().number())))) {
            return false;
          }
          drills.addSitting(dsl, withNextAttempt(dsl, sitting));
          for (Entry e : entries) {
            UUID response =
                drills.addResponse(
                    dsl, sitting, e.item(), Marking.answer(e.item(), e.tap()),
                    Marker.phrase(Marking.answer(e.item(), e.tap())), e.outcome(), answeredAt);
            dsl.insertInto(PAPER_ENTRY)
                .set(PAPER_ENTRY.RESPONSE_ID, response)
                .set(PAPER_ENTRY.MARK, e.tap().mark().word())
                .set(PAPER_ENTRY.WRITTEN, e.tap().written())
                .set(PAPER_ENTRY.ENTERED_BY, by)
                .execute();
          }
          dsl.update(PAPER_SCRIPT)
              .set(PAPER_SCRIPT.SITTING_ID, sitting.id())
              .set(PAPER_SCRIPT.ENTERED_BY, by)
              .set(PAPER_SCRIPT.ENTERED_AT, at)
              .where(PAPER_SCRIPT.SHEET_ID.eq(sheet), PAPER_SCRIPT.PERSON_ID.eq(sitting.person()))
              .execute();
          return true;
        });
  }

  private static Sitting withNextAttempt(DSLContext dsl, Sitting s) {
    int attempt =
        s.assignment().isEmpty()
            ? 1
            : 1 + dsl.select(DSL.coalesce(DSL.max(DRILL_SITTING.ATTEMPT), 0))
                .from(DRILL_SITTING)
                .where(DRILL_SITTING.ASSIGNMENT_ID.eq(s.assignment().get()))
                .and(DRILL_SITTING.PERSON_ID.eq(s.person()))
                .fetchSingle()
                .value1();
    return new Sitting(
        s.id(), s.person(), s.assignment(), attempt, s.title(), s.plan(), s.seed(), s.edition(), s.startedAt(),
        s.items());
  }

  /** How an answer was entered and by whom, by the answer's id; answers that were not on paper are missing. */
  public Map<UUID, UUID> enteredBy(UUID sitting) {
    return database
        .dsl()
        .select(PAPER_ENTRY.RESPONSE_ID, PAPER_ENTRY.ENTERED_BY)
        .from(PAPER_ENTRY)
        .join(DRILL_RESPONSE)
        .on(DRILL_RESPONSE.ID.eq(PAPER_ENTRY.RESPONSE_ID))
        .where(DRILL_RESPONSE.SITTING_ID.eq(sitting))
        .fetchMap(PAPER_ENTRY.RESPONSE_ID, PAPER_ENTRY.ENTERED_BY);
  }

  /**
   * Corrects what was entered for an answer: a new record that counts instead of the first, which stays.
   *
   * @return false, with nothing added, if it counts that already
   */
  boolean correct(Response response, Tap tap, Outcome outcome, UUID by, Instant at) {
    return database.inTransaction(
        dsl -> {
          // whoever corrects at the same time waits here, so that the order of corrections is that of their numbers
          dsl.select(DRILL_RESPONSE.ID)
              .from(DRILL_RESPONSE)
              .where(DRILL_RESPONSE.ID.eq(response.id()))
              .forUpdate()
              .fetchSingle();
          if (drills.response(response.sitting(), response.item().position()).orElseThrow().now().equals(outcome)) {
            return false;
          }
          UUID regrade = UUID.randomUUID();
          dsl.insertInto(DRILL_REGRADE)
              .set(DRILL_REGRADE.ID, regrade)
              .set(DRILL_REGRADE.RESPONSE_ID, response.id())
              .set(
                  DRILL_REGRADE.ORDINAL,
                  1 + dsl.select(DSL.coalesce(DSL.max(DRILL_REGRADE.ORDINAL), 0))
                      .from(DRILL_REGRADE)
                      .where(DRILL_REGRADE.RESPONSE_ID.eq(response.id()))
                      .fetchSingle()
                      .value1())
              .set(DRILL_REGRADE.VERDICT, outcome.verdict())
              .set(DRILL_REGRADE.CREDIT, outcome.credit())
              .set(DRILL_REGRADE.REASON, outcome.reason())
              .set(DRILL_REGRADE.TAKEN_FOR, outcome.takenFor().map(ConceptId::value).orElse(null))
              .set(DRILL_REGRADE.REGRADED_AT, at)
              .execute();
          DrillStore.noteRegrade(dsl, response.id(), regrade, at);
          dsl.insertInto(PAPER_CORRECTION)
              .set(PAPER_CORRECTION.REGRADE_ID, regrade)
              .set(PAPER_CORRECTION.MARK, tap.mark().word())
              .set(PAPER_CORRECTION.WRITTEN, tap.written())
              .set(PAPER_CORRECTION.CORRECTED_BY, by)
              .execute();
          return true;
        });
  }

  /** What was last entered for each answer of a sitting, corrections included, by number. */
  public Map<Integer, Tap> entered(UUID sitting) {
    Map<Integer, Tap> taps = new LinkedHashMap<>();
    database
        .dsl()
        .select(DRILL_RESPONSE.POSITION, PAPER_ENTRY.MARK, PAPER_ENTRY.WRITTEN)
        .select(PAPER_CORRECTION.MARK, PAPER_CORRECTION.WRITTEN)
        .from(PAPER_ENTRY)
        .join(DRILL_RESPONSE)
        .on(DRILL_RESPONSE.ID.eq(PAPER_ENTRY.RESPONSE_ID))
        .leftJoin(DRILL_REGRADE)
        .on(DRILL_REGRADE.RESPONSE_ID.eq(DRILL_RESPONSE.ID))
        .leftJoin(PAPER_CORRECTION)
        .on(PAPER_CORRECTION.REGRADE_ID.eq(DRILL_REGRADE.ID))
        .where(DRILL_RESPONSE.SITTING_ID.eq(sitting))
        .orderBy(DRILL_RESPONSE.POSITION, DRILL_REGRADE.ORDINAL)
        .forEach(
            row -> {
              int number = row.get(DRILL_RESPONSE.POSITION);
              taps.putIfAbsent(number, tap(number, row.get(PAPER_ENTRY.MARK), row.get(PAPER_ENTRY.WRITTEN)));
              if (row.get(PAPER_CORRECTION.MARK) != null) {
                taps.put(number, tap(number, row.get(PAPER_CORRECTION.MARK), row.get(PAPER_CORRECTION.WRITTEN)));
              }
            });
    return taps;
  }

  private static Tap tap(int number, String mark, String written) {
    return new Tap(number, Mark.find(mark).orElseThrow(), written);
  }
}
