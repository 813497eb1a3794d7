package ferrule.store;

import java.util.Arrays;
import java.util.Optional;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.flywaydb.core.api.MigrationInfo;
import org.flywaydb.core.api.MigrationState;
import org.flywaydb.core.api.MigrationVersion;
import org.flywaydb.core.api.configuration.FluentConfiguration;

/** Brings the tables up to date, and refuses those that another version of the program has left. */
final class Migrations {

  private Migrations() {}

  /** Where the migrations are, and that each runs that has not, also one with a lower number than the last that did. */
  static FluentConfiguration configured() {
    return Flyway.configure(Database.class.getClassLoader()).locations("classpath:migrations").outOfOrder(true);
  }

  /** Runs the migrations that this database has not seen. */
  static void run(DatabaseUrl url, FluentConfiguration configuration) {
    Flyway flyway = configuration.load();
    try {
      newerThanProgram(flyway).ifPresent(version -> {
        throw CannotOpen.otherVersion(
            url, "was last opened by a newer Ferrule (its tables are at version " + version
                + ", which this program does not know): start the newer program, or restore a backup from before");
      });
      flyway.migrate();
    } catch (FlywayException e) {
      throw CannotOpen.of(url, e);
    }
  }

  private static Optional<MigrationVersion> newerThanProgram(Flyway flyway) {
    return Arrays.stream(flyway.info().all())
        .filter(m -> m.getState() == MigrationState.FUTURE_SUCCESS || m.getState() == MigrationState.FUTURE_FAILED)
        .map(MigrationInfo::getVersion)
        .reduce((first, second) -> second);
  }
}
