package ferrule.store;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import org.flywaydb.core.Flyway;
import org.jooq.DSLContext;
import org.jooq.conf.RenderQuotedNames;
import org.jooq.conf.Settings;
import org.jooq.impl.DSL;

/**
 * An open database whose tables are up to date: a pool of connections, and transactions over it. Opening it runs the
 * migrations that the database has not seen; two nodes that open it at once take turns.
 */
public final class Database implements AutoCloseable {

  private static final int CONNECTIONS = 10;

  private final HikariDataSource pool;
  private final DSLContext dsl;

  private Database(HikariDataSource pool, DSLContext dsl) {
    this.pool = pool;
    this.dsl = dsl;
  }

  /** The database at this address, migrated, with the credentials that the address itself carries. */
  public static Database open(DatabaseUrl url) {
    return open(url, Optional.empty(), Optional.empty());
  }

  /** The database at this address, migrated; user and password where the server asks for them. */
  public static Database open(DatabaseUrl url, Optional<String> user, Optional<String> password) {
    HikariConfig config = new HikariConfig();
    config.setJdbcUrl(url.jdbc());
    user.ifPresent(config::setUsername);
    password.ifPresent(config::setPassword);
    config.setMaximumPoolSize(CONNECTIONS);
    config.setPoolName("ferrule");
    HikariDataSource pool = new HikariDataSource(config);
    Flyway.configure(Database.class.getClassLoader())
        .dataSource(pool)
        .locations("classpath:migrations")
        .load()
        .migrate();
    Settings settings = new Settings().withRenderQuotedNames(RenderQuotedNames.NEVER);
    return new Database(pool, DSL.using(pool, url.dialect(), settings));
  }

  /** Queries outside a transaction, each on its own. */
  public DSLContext dsl() {
    return dsl;
  }

  /** What the work returns, after all that it wrote is committed; if it throws, nothing of it is kept. */
  public <T> T inTransaction(Function<DSLContext, T> work) {
    return dsl.transactionResult(configuration -> work.apply(configuration.dsl()));
  }

  /** Does the work and commits it as a whole; if it throws, nothing of it is kept. */
  public void transact(Consumer<DSLContext> work) {
    dsl.transaction(configuration -> work.accept(configuration.dsl()));
  }

  @Override
  public void close() {
    pool.close();
  }
}
