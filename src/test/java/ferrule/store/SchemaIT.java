package ferrule.store;

import static ferrule.store.jooq.Tables.PERSON;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.IntStream;
import org.flywaydb.core.Flyway;
import org.jooq.DSLContext;
import org.jooq.Record;
import org.jooq.exception.DataAccessException;
import org.jooq.impl.DSL;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class SchemaIT {

  /** The last migration of the release before there could be several sites. */
  private static final String BEFORE_SITES = "044";

  private static void addPerson(DSLContext dsl, String name) {
    dsl.insertInto(PERSON)
        .set(PERSON.ID, UUID.randomUUID())
        .set(PERSON.SIGN_IN_NAME, name)
        .set(PERSON.FULL_NAME, name)
        .set(PERSON.ROLE, "apprentice")
        .set(PERSON.CREATED_AT, Instant.EPOCH)
        .execute();
  }

  private static List<String> names(Database database) {
    return database.dsl().select(PERSON.FULL_NAME).from(PERSON).fetch(PERSON.FULL_NAME);
  }

  /** Each table with its columns and their types, as the database itself tells them. */
  private static Map<String, List<String>> tables(Database database) {
    return database.dsl()
        .fetch("select table_name, column_name, data_type, is_nullable from information_schema.columns "
            + "where table_schema = '" + database.schema() + "' and table_name <> 'flyway_schema_history' "
            + "order by table_name, column_name")
        .intoGroups(
            (Record row) -> row.get(0, String.class),
            (Record row) -> row.get(1) + " " + row.get(2) + " " + row.get(3));
  }

  private static List<String> constraints(Database database) {
    return database.dsl()
        .fetch("select table_name, constraint_type, count(*) from information_schema.table_constraints "
            + "where table_schema = '" + database.schema() + "' and table_name <> 'flyway_schema_history' "
            + "group by table_name, constraint_type order by 1, 2")
        .map(Record::toString);
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void anotherSchemaHasTheSameTablesAndNothingInThem(Database database) {
    try (database) {
      addPerson(database.dsl(), "wren");
      Database other = database.schema("site_night");
      assertEquals(tables(database), tables(other));
      assertEquals(constraints(database), constraints(other));
      assertTrue(tables(other).size() > 40, tables(other).keySet().toString());
      assertEquals(List.of(), names(other));
      addPerson(other.dsl(), "isolde");
      assertEquals(List.of("wren"), names(database));
      assertEquals(List.of("isolde"), names(database.schema("site_night")), "opened again it is as it was left");
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void aConnectionThatFailedAtOneSchemaServesTheNextAsItShould(Database database) {
    try (database) {
      Database other = database.schema("site_night");
      addPerson(other.dsl(), "isolde");
      for (int i = 0; i < 40; i++) {
        assertThrows(DataAccessException.class, () -> other.transact(dsl -> {
          addPerson(dsl, "wren");
          addPerson(dsl, "isolde"); // there is one of that name
        }));
        assertEquals(List.of(), names(database));
        assertEquals(List.of("isolde"), names(other));
      }
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void twoTransactionsAtTwoSchemasGoOnSideBySide(Database database) {
    try (database) {
      Database other = database.schema("site_night");
      database.transact(here -> {
        addPerson(here, "wren");
        other.transact(there -> addPerson(there, "isolde"));
        addPerson(here, "bram");
      });
      assertEquals(2, names(database).size());
      assertEquals(List.of("isolde"), names(other));
    }
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void severalNodesOpenTheSameNewSchemaAtOnce(Database database) {
    try (database) {
      database.dsl().execute("create schema site_night");
      List<List<String>> seen =
          IntStream.range(0, 4).parallel().mapToObj(i -> names(database.schema("site_night"))).toList();
      assertEquals(List.of(List.of(), List.of(), List.of(), List.of()), seen);
    }
  }

  @Test
  void aFileOfTheReleaseBeforeOpensWithItsRecordsInTheSamePlace(@TempDir Path folder) {
    DatabaseUrl url = DatabaseUrl.h2File(folder, "ferrule");
    Flyway.configure().dataSource(url.jdbc(), null, null).locations("classpath:migrations").target(BEFORE_SITES).load()
        .migrate();
    addPerson(DSL.using(url.jdbc()), "wren");
    try (Database database = Database.open(url)) {
      assertEquals("public", database.schema());
      assertEquals(List.of("wren"), names(database));
      database.schema("site_night");
    }
    try (Database database = Database.open(url)) {
      assertEquals(List.of("wren"), names(database));
      assertEquals(List.of(), names(database.schema("site_night")));
    }
  }

  @Test
  void anAddressThatNamesASchemaKeepsToIt() throws SQLException {
    DatabaseUrl url = RealDatabases.emptyPostgres();
    try (Connection connection = DriverManager.getConnection(url.jdbc(), "postgres", null)) {
      connection.createStatement().execute("create schema school");
    }
    DatabaseUrl named = DatabaseUrl.parse(url.jdbc() + (url.jdbc().contains("?") ? "&" : "?") + "currentSchema=school");
    try (Database database = Database.open(named, Optional.of("postgres"), Optional.empty())) {
      assertEquals("school", database.schema());
      addPerson(database.dsl(), "wren");
      Database other = database.schema("site_night");
      assertEquals(List.of(), names(other));
      assertEquals(List.of("wren"), names(database));
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "Night", "night bench", "night;drop schema public", "night\"", "9night"})
  void aNameThatIsNoPlainWordIsRefused(String name) {
    try (Database database = RealDatabases.h2()) {
      assertThrows(IllegalArgumentException.class, () -> database.schema(name));
    }
  }
}
