package ferrule.app;

import ferrule.store.Database;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.Set;
import java.util.TreeSet;
import org.h2.api.Trigger;
import org.jooq.SQLDialect;

/**
 * Notes in a database which tables a transaction changes, in that same transaction: what is rolled back leaves no note. In
 * H2 this class is the trigger, in PostgreSQL a function that does the same.
 */
public final class Touched implements Trigger {

  private String table;

  /** Puts a trigger on every table. */
  static void watch(Database database) {
    var tables = database.dsl().fetch("select table_name from information_schema.tables where table_schema = '"
        + database.schema() + "' and table_type = 'BASE TABLE'").getValues(0, String.class);
    database.dsl().execute("create table touched_table (name varchar(100))");
    boolean isPostgres = database.dsl().family() == SQLDialect.POSTGRES;
    if (isPostgres) {
      database.dsl().execute("create function note_touched() returns trigger language plpgsql as $$ begin "
          + "if tg_op <> 'UPDATE' or new is distinct from old then insert into touched_table values (tg_table_name); end if; "
          + "return null; end $$");
    }
    tables.stream().filter(t -> !t.equalsIgnoreCase("flyway_schema_history")).forEach(t -> database.dsl().execute(
        "create trigger watch_" + t + " after " + (isPostgres
            ? "insert or update or delete on " + t + " for each row execute function note_touched()"
            : "insert, update, delete on " + t + " for each row call '" + Touched.class.getName() + "'")));
  }

  /** Which tables were changed since this was last asked. */
  static Set<String> since(Database database) {
    Set<String> names = new TreeSet<>(
        database.dsl().fetch("select distinct name from touched_table").getValues(0, String.class));
    if (!names.isEmpty()) {
      database.dsl().execute("delete from touched_table");
    }
    return names;
  }

  @Override
  public void init(Connection connection, String schema, String trigger, String name, boolean before, int type) {
    this.table = name;
  }

  @Override
  public void fire(Connection connection, Object[] before, Object[] after) throws SQLException {
    if (java.util.Arrays.deepEquals(before, after)) {
      return;
    }
    try (PreparedStatement note = connection.prepareStatement("insert into touched_table values (?)")) {
      note.setString(1, table);
      note.execute();
    }
  }
}
