package ferrule.store;

import java.nio.file.Path;
import org.jooq.SQLDialect;

/**
 * Where the database is: an embedded H2 file or memory, or a PostgreSQL server.
 *
 * @param jdbc the full JDBC address, with the options that Ferrule's SQL relies on
 * @param dialect the SQL that is spoken there
 */
public record DatabaseUrl(String jdbc, SQLDialect dialect) {

  // with its usual write delay H2 says that a commit is done up to half a second before it is in the file; and of the
  // statements that it has compiled a connection usually keeps eight, fewer than it is asked between two answers. By itself
  // it closes as soon as the program is told to stop, under those whose requests are being answered
  private static final String H2_OPTIONS =
      ";MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE;DEFAULT_NULL_ORDERING=HIGH;WRITE_DELAY=0;QUERY_CACHE_SIZE=128"
          + ";DB_CLOSE_ON_EXIT=FALSE";

  /** An H2 database in a file below this folder; the folder is made when the database is opened. */
  public static DatabaseUrl h2File(Path folder, String name) {
    return h2("jdbc:h2:file:" + folder.toAbsolutePath().resolve(name));
  }

  /** An H2 database in memory that lives as long as the process. */
  public static DatabaseUrl h2Memory(String name) {
    return h2("jdbc:h2:mem:" + name + ";DB_CLOSE_DELAY=-1");
  }

  /** Where it is, for people to read: the address without its options, which may hold a password. */
  public String place() {
    String end = dialect == SQLDialect.H2 ? ";" : "?";
    int options = jdbc.indexOf(end);
    return (options < 0 ? jdbc : jdbc.substring(0, options)).replaceFirst("^jdbc:h2:file:", "");
  }

  private static DatabaseUrl h2(String base) {
    return new DatabaseUrl(base + H2_OPTIONS, SQLDialect.H2);
  }

  /**
   * The database at a JDBC address.
   *
   * @throws IllegalArgumentException if the address is neither PostgreSQL's nor H2's; the message says what is expected
   */
  public static DatabaseUrl parse(String jdbc) {
    if (jdbc.startsWith("jdbc:postgresql:")) {
      return new DatabaseUrl(jdbc, SQLDialect.POSTGRES);
    }
    if (jdbc.startsWith("jdbc:h2:")) {
      return h2(jdbc);
    }
    throw new IllegalArgumentException(
        "the database address starts with jdbc:postgresql: or jdbc:h2:, for example "
            + "jdbc:postgresql://localhost/ferrule; given: " + jdbc);
  }
}
