package ferrule.audit;

import static ferrule.store.jooq.Tables.AUDIT_ENTRY;
import static ferrule.store.jooq.Tables.BENCH_HOURS;
import static ferrule.store.jooq.Tables.CHECK_REQUEST;
import static ferrule.store.jooq.Tables.COHORT;
import static ferrule.store.jooq.Tables.DRILL_ASSIGNMENT;
import static ferrule.store.jooq.Tables.DRILL_SITTING;
import static ferrule.store.jooq.Tables.EQUIVALENCE;
import static ferrule.store.jooq.Tables.GRADE_DRAFT;
import static ferrule.store.jooq.Tables.KNOWN_DEVICE;
import static ferrule.store.jooq.Tables.LONG_WORK;
import static ferrule.store.jooq.Tables.ONE_TIME_LINK;
import static ferrule.store.jooq.Tables.PAPER_SHEET;
import static ferrule.store.jooq.Tables.PERSON;
import static ferrule.store.jooq.Tables.PHOTO;
import static ferrule.store.jooq.Tables.RECORD_LINK;
import static ferrule.store.jooq.Tables.RECORD_LOG;

import ferrule.people.PeopleStore;
import ferrule.people.Secrets;
import ferrule.store.Database;
import ferrule.store.jooq.tables.records.AuditEntryRecord;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.jooq.Condition;
import org.jooq.DSLContext;
import org.jooq.SortField;
import org.jooq.Table;
import org.jooq.TableField;
import org.jooq.impl.DSL;

/**
 * The trail in the database. Lines are found by one of four indexes, each with the time in it, so that a page costs the
 * same however long the trail is.
 */
public final class AuditStore {

  private static final int AT_A_TIME = 5_000;

  private final Database database;
  // a sitting stays its person's, and is named with each answer in it
  private final Map<UUID, Set<UUID>> sittings = Collections.synchronizedMap(new LatestAsked());

  /** What was asked for last, of as many as a school takes at a time. */
  private static final class LatestAsked extends LinkedHashMap<UUID, Set<UUID>> {
    private static final long serialVersionUID = 1;
    private static final int MOST = 512;

    LatestAsked() {
      super(MOST, 0.75f, true);
    }

    @Override
    protected boolean removeEldestEntry(Map.Entry<UUID, Set<UUID>> eldest) {
      return size() > MOST;
    }
  }

  /** A store over this database. */
  public AuditStore(Database database) {
    this.database = database;
  }

  /** How what was begun ended. */
  record End(List<Long> ids, String outcome) {}

  /** Adds lines, and returns their ids. */
  List<Long> add(List<Entry> lines) {
    return database.inTransaction(dsl -> lines.stream().map(line -> add(dsl, line)).toList());
  }

  private static long add(DSLContext dsl, Entry line) {
    return dsl.insertInto(AUDIT_ENTRY).set(row(dsl, line)).returning(AUDIT_ENTRY.ID).fetchSingle().getId();
  }

  private static AuditEntryRecord row(DSLContext dsl, Entry line) {
    AuditEntryRecord row = dsl.newRecord(AUDIT_ENTRY);
    row.setAt(line.at());
    row.setKind(line.kind());
    row.setWhoId(line.who().orElse(null));
    row.setRole(line.role());
    row.setAboutId(line.about().orElse(null));
    row.setRoute(line.route());
    row.setThing(line.thing());
    row.setAddress(line.address());
    row.setRequest(line.request());
    row.setOutcome(line.outcome());
    row.changed(AUDIT_ENTRY.ID, false);
    return row;
  }

  /** Adds lines and says how others ended, all or nothing. */
  void write(List<Entry> lines, List<End> ends) {
    database.transact(dsl -> {
      dsl.batchInsert(lines.stream().map(line -> row(dsl, line)).toList()).execute();
      ends.forEach(end -> dsl.update(AUDIT_ENTRY).set(AUDIT_ENTRY.OUTCOME, end.outcome())
          .where(AUDIT_ENTRY.ID.in(end.ids())).execute());
    });
  }

  /** The persons, or the cohort, that a thing of this sort with this name belongs to; none if there is no such thing. */
  Set<UUID> whose(String thing, String text) {
    return switch (thing) {
      case "named" -> one(PERSON, PERSON.ID, PERSON.SIGN_IN_NAME.eq(PeopleStore.folded(text)));
      case "photo" -> Set.copyOf(database.dsl().selectDistinct(GRADE_DRAFT.APPRENTICE_ID).from(PHOTO).join(GRADE_DRAFT)
          .on(GRADE_DRAFT.ID.eq(PHOTO.DRAFT_ID)).where(PHOTO.SHA256.eq(text)).fetch(GRADE_DRAFT.APPRENTICE_ID));
      case "shared" -> one(RECORD_LINK, RECORD_LINK.PERSON_ID, RECORD_LINK.TOKEN_HASH.eq(Secrets.digest(text)));
      case "invitation" -> one(ONE_TIME_LINK, ONE_TIME_LINK.PERSON_ID, ONE_TIME_LINK.TOKEN_HASH.eq(Secrets.digest(text)));
      default -> uuid(text).map(id -> whose(thing, id)).orElse(Set.of());
    };
  }

  private Set<UUID> whose(String thing, UUID id) {
    return switch (thing) {
      case "person", "cohort", "id", "tablet-person" -> Set.of(id);
      case "record" -> one(RECORD_LOG, RECORD_LOG.SUBJECT_ID, RECORD_LOG.ID.eq(id));
      case "draft" -> one(GRADE_DRAFT, GRADE_DRAFT.APPRENTICE_ID, GRADE_DRAFT.ID.eq(id));
      case "group" -> one(GRADE_DRAFT, GRADE_DRAFT.APPRENTICE_ID, GRADE_DRAFT.GROUP_ID.eq(id));
      case "request" -> one(CHECK_REQUEST, CHECK_REQUEST.APPRENTICE_ID, CHECK_REQUEST.ID.eq(id));
      case "drill" -> one(DRILL_ASSIGNMENT, DRILL_ASSIGNMENT.COHORT_ID, DRILL_ASSIGNMENT.ID.eq(id));
      case "sheet" -> one(PAPER_SHEET, PAPER_SHEET.COHORT_ID, PAPER_SHEET.ID.eq(id));
      case "sitting" -> ofSitting(id);
      case "hours" -> one(BENCH_HOURS, BENCH_HOURS.APPRENTICE_ID, BENCH_HOURS.ID.eq(id));
      case "link" -> one(RECORD_LINK, RECORD_LINK.PERSON_ID, RECORD_LINK.ID.eq(id));
      case "prior-learning" -> one(EQUIVALENCE, EQUIVALENCE.APPRENTICE_ID, EQUIVALENCE.ID.eq(id));
      case "bundle" -> one(LONG_WORK, LONG_WORK.COHORT_ID, LONG_WORK.ID.eq(id));
      case "device" -> one(KNOWN_DEVICE, KNOWN_DEVICE.PERSON_ID, KNOWN_DEVICE.ID.eq(id));
      default -> throw new IllegalArgumentException("nothing is known of whose a " + thing + " is");
    };
  }

  private Set<UUID> ofSitting(UUID id) {
    Set<UUID> known = sittings.getOrDefault(id, Set.of());
    if (!known.isEmpty()) {
      return known;
    }
    Set<UUID> found = one(DRILL_SITTING, DRILL_SITTING.PERSON_ID, DRILL_SITTING.ID.eq(id));
    if (!found.isEmpty()) { // it may yet come to be
      sittings.put(id, found);
    }
    return found;
  }

  private Set<UUID> one(Table<?> table, TableField<?, UUID> whose, Condition which) {
    return Set.copyOf(database.dsl().selectDistinct(whose).from(table).where(which).and(whose.isNotNull()).fetch(whose));
  }

  private static Optional<UUID> uuid(String text) {
    try {
      return Optional.of(UUID.fromString(text));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** The lines that are asked for, the latest first. */
  List<Entry> find(Question asked) {
    List<Optional<UUID>> abouts =
        asked.about().isEmpty() ? List.of(Optional.empty()) : asked.about().stream().map(Optional::of).toList();
    // one at a time: an index gives its lines in order for one of them alone
    return abouts.stream().flatMap(about -> find(asked, about).stream())
        .sorted(Comparator.comparing(Entry::at).thenComparing(Entry::id).reversed()).limit(asked.most()).toList();
  }

  private List<Entry> find(Question asked, Optional<UUID> about) {
    Condition where = AUDIT_ENTRY.AT.ge(asked.from()).and(AUDIT_ENTRY.AT.lt(asked.to()));
    where = asked.before().map(key -> AUDIT_ENTRY.AT.le(key.at())
        .and(AUDIT_ENTRY.AT.lt(key.at()).or(AUDIT_ENTRY.ID.lt(key.id())))).map(where::and).orElse(where);
    where = about.map(AUDIT_ENTRY.ABOUT_ID::eq).map(where::and).orElse(where);
    where = asked.by().map(AUDIT_ENTRY.WHO_ID::eq).map(where::and).orElse(where);
    where = asked.notBy().map(id -> AUDIT_ENTRY.WHO_ID.isNull().or(AUDIT_ENTRY.WHO_ID.ne(id))).map(where::and).orElse(where);
    if (!asked.kinds().isEmpty()) {
      where = where.and(AUDIT_ENTRY.KIND.in(asked.kinds()));
    }
    return database.dsl().selectFrom(AUDIT_ENTRY).where(where).orderBy(order(asked, about)).limit(asked.most())
        .fetch(AuditStore::entry);
  }

  /** In the order of the index that narrows most, named whole, or the embedded database sorts by itself. */
  private static List<SortField<?>> order(Question asked, Optional<UUID> about) {
    Stream<SortField<?>> first = about.isPresent() ? Stream.of(AUDIT_ENTRY.ABOUT_ID.asc())
        : asked.by().isPresent() ? Stream.of(AUDIT_ENTRY.WHO_ID.asc())
        : asked.kinds().size() == 1 ? Stream.of(AUDIT_ENTRY.KIND.asc()) : Stream.of();
    return Stream.concat(first, Stream.of(AUDIT_ENTRY.AT.desc(), AUDIT_ENTRY.ID.desc())).toList();
  }

  private static Entry entry(AuditEntryRecord row) {
    return new Entry(
        row.getId(), row.getAt(), row.getKind(), Optional.ofNullable(row.getWhoId()), row.getRole(),
        Optional.ofNullable(row.getAboutId()), row.getRoute(), row.getThing(), row.getAddress(), row.getRequest(),
        row.getOutcome());
  }

  /** The names of these persons and the titles of these cohorts, by their ids. */
  Map<UUID, String> names(Collection<UUID> ids) {
    Set<UUID> asked = new HashSet<>(ids);
    Map<UUID, String> names = new HashMap<>(
        database.dsl().select(PERSON.ID, PERSON.FULL_NAME).from(PERSON).where(PERSON.ID.in(asked))
            .fetchMap(PERSON.ID, PERSON.FULL_NAME));
    names.putAll(database.dsl().select(COHORT.ID, COHORT.TITLE).from(COHORT).where(COHORT.ID.in(asked))
        .fetchMap(COHORT.ID, COHORT.TITLE));
    return names;
  }

  /** The one person of this full name or sign-in name, without regard to case; empty if there is none or more. */
  Optional<UUID> named(String name) {
    String asked = name.strip().toLowerCase(Locale.ROOT);
    List<UUID> found = database.dsl().select(PERSON.ID).from(PERSON)
        .where(DSL.lower(PERSON.FULL_NAME).eq(asked).or(PERSON.SIGN_IN_NAME.eq(asked))).limit(2).fetch(PERSON.ID);
    return found.size() == 1 ? Optional.of(found.get(0)) : Optional.empty();
  }

  /** Removes what is older than this and was only seen, or was a coming and going. */
  void forget(Instant before) {
    List<Long> some;
    do {
      some = new ArrayList<>(database.dsl().select(AUDIT_ENTRY.ID).from(AUDIT_ENTRY)
          .where(AUDIT_ENTRY.KIND.in("saw", "signed-in")).and(AUDIT_ENTRY.AT.lt(before)).limit(AT_A_TIME)
          .fetch(AUDIT_ENTRY.ID));
      List<Long> gone = some;
      database.transact(dsl -> dsl.deleteFrom(AUDIT_ENTRY).where(AUDIT_ENTRY.ID.in(gone)).execute());
    } while (some.size() == AT_A_TIME);
  }
}
