package ferrule.competency;

import static ferrule.store.jooq.Tables.COHORT;
import static ferrule.store.jooq.Tables.COHORT_MEMBER;
import static ferrule.store.jooq.Tables.COHORT_MOVE;
import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.PROGRAMME_EDITION;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.core.type.TypeReference;
import com.fasterxml.jackson.databind.ObjectMapper;
import ferrule.ledger.LedgerStore;
import ferrule.store.Database;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.SelectOnConditionStep;

/** Editions of the programme that are or were in use, and the moves of cohorts between them. */
public final class EditionStore {

  private static final ObjectMapper JSON = new ObjectMapper();

  private final Database database;
  private final LedgerStore ledger;
  private final Map<String, Programme> read = new ConcurrentHashMap<>();

  /** A store over this database, whose log it adds to. */
  public EditionStore(Database database, LedgerStore ledger) {
    this.database = database;
    this.ledger = ledger;
  }

  /** A kept edition and the moment from which it was in use here. */
  public record Kept(String edition, Instant keptAt) {}

  /** Keeps an edition, unless it is kept already. */
  public void keep(Programme programme, Instant at) {
    try {
      database.dsl().insertInto(PROGRAMME_EDITION)
          .set(PROGRAMME_EDITION.EDITION, programme.edition())
          .set(PROGRAMME_EDITION.TEXT, programme.text())
          .set(PROGRAMME_EDITION.TITLES, JSON.writeValueAsString(programme.titles()))
          .set(PROGRAMME_EDITION.KEPT_AT, at)
          .onConflictDoNothing()
          .execute();
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a map of texts is written as JSON", e);
    }
  }

  /** The kept edition of this name, if there is one. */
  Optional<Programme> find(String edition) {
    Programme known = read.get(edition);
    if (known != null) {
      return Optional.of(known);
    }
    Optional<Programme> kept = database.dsl().selectFrom(PROGRAMME_EDITION)
        .where(PROGRAMME_EDITION.EDITION.eq(edition))
        .fetchOptional(row -> ProgrammeReader.kept(row.getText(), titles(row.getTitles())));
    kept.ifPresent(p -> read.put(edition, p));
    return kept;
  }

  private static Map<String, String> titles(String json) {
    try {
      return JSON.readValue(json, new TypeReference<>() {});
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("the titles beside a kept programme cannot be read", e);
    }
  }

  /** Every kept edition, the latest first. */
  public List<Kept> all() {
    return database.dsl().selectFrom(PROGRAMME_EDITION)
        .orderBy(PROGRAMME_EDITION.KEPT_AT.desc(), PROGRAMME_EDITION.EDITION)
        .fetch(row -> new Kept(row.getEdition(), row.getKeptAt()));
  }

  /** The edition that each cohort is on at an instant. */
  Map<UUID, String> editions(Instant at) {
    return editions(database.dsl(), at);
  }

  private static Map<UUID, String> editions(DSLContext dsl, Instant at) {
    Map<UUID, String> editions = new HashMap<>();
    dsl.select(COHORT.ID, COHORT.EDITION).from(COHORT)
        .forEach(row -> editions.put(row.value1(), row.value2()));
    dsl.select(COHORT_MOVE.COHORT_ID, COHORT_MOVE.EDITION).from(COHORT_MOVE)
        .where(COHORT_MOVE.MOVED_AT.le(at))
        .orderBy(COHORT_MOVE.ORDINAL)
        .forEach(row -> editions.put(row.value1(), row.value2()));
    return editions;
  }

  /**
   * The stay in a cohort by which each of these people is judged on a day: of those that had begun, one that was not over
   * before one that was, and of several the last; of people whom none had begun for, the one that begins first.
   */
  Map<UUID, Stay> stays(Collection<UUID> people, LocalDate day) {
    Map<UUID, Stay> stays = new HashMap<>();
    database.dsl()
        .select(COHORT_MEMBER.PERSON_ID, COHORT_MEMBER.COHORT_ID, COHORT_MEMBER.JOINED_ON, COHORT_MEMBER.LEFT_ON)
        .from(COHORT_MEMBER)
        .where(COHORT_MEMBER.PERSON_ID.in(people))
        .orderBy(COHORT_MEMBER.JOINED_ON)
        .forEach(row -> stays.merge(
            row.value1(), new Stay(row.value2(), row.value3(), Optional.ofNullable(row.value4())),
            (earlier, later) -> later.countsBefore(earlier, day) ? later : earlier));
    return stays;
  }

  /**
   * Moves cohorts, and enters each move in the log.
   *
   * @return false, and nothing is moved, if one of them is on that edition already
   */
  public boolean move(List<Move> moves) {
    return database.inTransaction(dsl -> {
      Map<UUID, String> titles = dsl.select(COHORT.ID, COHORT.TITLE).from(COHORT)
          .where(COHORT.ID.in(moves.stream().map(Move::cohort).toList())).orderBy(COHORT.ID)
          .forUpdate().fetchMap(COHORT.ID, COHORT.TITLE);
      for (Move move : moves) {
        if (move.edition().equals(editions(dsl, move.movedAt()).get(move.cohort()))) {
          return false;
        }
      }
      for (Move move : moves) {
        String from = editions(dsl, move.movedAt()).get(move.cohort());
        insert(dsl, move);
        ledger.append(
            dsl, move.movedAt(), at -> ProgrammeStatement.moved(move, titles.get(move.cohort()), from, at));
      }
      return true;
    });
  }

  private static void insert(DSLContext dsl, Move move) {
    dsl.insertInto(COHORT_MOVE)
        .set(COHORT_MOVE.ID, move.id())
        .set(COHORT_MOVE.COHORT_ID, move.cohort())
        .set(COHORT_MOVE.ORDINAL, 1 + dsl.fetchCount(COHORT_MOVE, COHORT_MOVE.COHORT_ID.eq(move.cohort())))
        .set(COHORT_MOVE.EDITION, move.edition())
        .set(COHORT_MOVE.REASON, move.reason())
        .set(COHORT_MOVE.MOVED_BY, move.movedBy())
        .set(COHORT_MOVE.MOVED_AT, move.movedAt())
        .execute();
  }

  /** Every move, the latest first. */
  List<Move> moves() {
    return moveRows().orderBy(COHORT_MOVE.MOVED_AT.desc(), COHORT_MOVE.ORDINAL.desc()).fetch(EditionStore::toMove);
  }

  private SelectOnConditionStep<Record> moveRows() {
    return database.dsl().select(COHORT_MOVE.fields()).select(PERSON.FULL_NAME)
        .from(COHORT_MOVE).join(PERSON).on(PERSON.ID.eq(COHORT_MOVE.MOVED_BY));
  }

  private static Move toMove(Record row) {
    return new Move(
        row.get(COHORT_MOVE.ID), row.get(COHORT_MOVE.COHORT_ID), row.get(COHORT_MOVE.EDITION),
        row.get(COHORT_MOVE.REASON), row.get(COHORT_MOVE.MOVED_BY), row.get(PERSON.FULL_NAME),
        row.get(COHORT_MOVE.MOVED_AT));
  }
}
