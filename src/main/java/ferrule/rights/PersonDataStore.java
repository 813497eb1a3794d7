package ferrule.rights;

import ferrule.store.Database;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.UUID;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import java.util.function.Predicate;
import java.util.stream.Stream;
import org.jooq.Record;
import org.jooq.impl.DSL;

/** Reads the rows that are about a person, whatever table they are in, without holding more than a few. */
public final class PersonDataStore {

  private static final int AT_A_TIME = 200;

  private final Database database;

  /** A store over this database. */
  public PersonDataStore(Database database) {
    this.database = database;
  }

  /** A row: its values by the names of their columns, in order. */
  record Row(List<String> columns, List<Object> values) {}

  /** Gives each row about a person of a table to a reader. */
  void about(PersonTables.About rows, UUID person, Consumer<Row> reader) {
    Set<String> out = PersonTables.LEFT_OUT.getOrDefault(rows.table(), Set.of());
    read("select * from " + rows.table() + " where " + rows.where(), person, name -> !out.contains(name), reader);
  }

  /** Gives each row in which a person is named as the one who did something to a reader: its id, kind and times. */
  void by(PersonTables.By rows, UUID person, Consumer<Row> reader) {
    read("select * from " + rows.table() + " where " + rows.column() + " = ?", person,
        name -> Set.of("id", "number", "kind", "route", "outcome", "at", rows.column()).contains(name) || name.endsWith("_at"),
        reader);
  }

  private void read(String sql, UUID person, Predicate<String> shown, Consumer<Row> reader) {
    // a transaction, without which PostgreSQL's driver would read all rows at once; nobody who writes waits for it
    database.dsl().transaction(reading -> {
      try (Stream<Record> rows = reading.dsl().resultQuery(sql, DSL.val(person)).fetchSize(AT_A_TIME).fetchLazy().stream()) {
        rows.forEach(row -> {
          List<String> names = Stream.of(row.fields()).map(f -> f.getName().toLowerCase(Locale.ROOT)).toList();
          List<String> kept = names.stream().filter(shown).toList();
          List<Object> values = new ArrayList<>(); // some are null
          kept.forEach(name -> values.add(row.get(names.indexOf(name))));
          reader.accept(new Row(kept, values));
        });
      }
    });
  }

  /** Gives each photo of a person's work, by its SHA-256, to a reader, one at a time. */
  void photos(UUID person, BiConsumer<String, byte[]> reader) {
    List<String> hashes = database.dsl().fetch(
        "select distinct p.sha256 from photo p join grade_draft d on d.id = p.draft_id where d.apprentice_id = ?", person)
        .map(row -> row.get(0, String.class));
    for (String hash : hashes) {
      database.dsl().resultQuery("select jpeg from photo where sha256 = ?", hash).fetch().stream().findFirst()
          .ifPresent(row -> reader.accept(hash, row.get(0, byte[].class)));
    }
  }
}
