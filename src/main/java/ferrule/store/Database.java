package ferrule.store;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.MeterRegistry;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.regex.Pattern;
import org.flywaydb.core.api.configuration.FluentConfiguration;
import org.h2.engine.Constants;
import org.jooq.Configuration;
import org.jooq.DSLContext;
import org.jooq.SQLDialect;
import org.jooq.conf.RenderQuotedNames;
import org.jooq.conf.Settings;
import org.jooq.exception.DataAccessException;
import org.jooq.impl.DSL;
import org.jooq.impl.DefaultConfiguration;
import org.jooq.impl.DefaultExecuteListenerProvider;

/**
 * An open database whose tables are up to date: a pool of connections, and transactions over it. Opening it runs the
 * migrations that the database has not seen; two nodes that open it at once take turns.
 *
 * <p>Its tables are those of one schema, at first the one that the address leads to. {@link #schema} gives the same
 * tables in another schema over the same connections. Queries name tables alone, so nothing that is written for one
 * schema can reach another.
 */
public final class Database implements AutoCloseable {

  private static final int CONNECTIONS = 10;
  private static final Pattern SCHEMA = Pattern.compile("[a-z][a-z0-9_]{0,62}");
  // nobody reads what it would log of each statement, or the warnings that it would ask the database for after each
  private static final Settings SETTINGS = new Settings()
      .withRenderQuotedNames(RenderQuotedNames.NEVER)
      .withExecuteLogging(false)
      .withFetchWarnings(false);
  // a request waits so long for a connection, and a connection so long for its first answer
  static final Duration CONNECTION_WITHIN = Duration.ofSeconds(8);
  private static final Duration ANSWER_WITHIN = Duration.ofSeconds(2);

  private final DatabaseUrl url;
  private final HikariDataSource pool;
  private final boolean ownsPool;
  private final SchemaConnections connections;
  private final Optional<OneWriter> oneWriter;
  private final DSLContext dsl;
  private final Optional<Together> together;

  private Database(
      DatabaseUrl url,
      HikariDataSource pool,
      boolean ownsPool,
      SchemaConnections connections,
      Optional<OneWriter> oneWriter) {
    this.url = url;
    this.pool = pool;
    this.ownsPool = ownsPool;
    this.connections = connections;
    this.oneWriter = oneWriter;
    Configuration configuration = new DefaultConfiguration().set(connections).set(url.dialect()).set(SETTINGS);
    oneWriter.ifPresent(listener -> configuration.set(new DefaultExecuteListenerProvider(listener)));
    this.dsl = DSL.using(configuration);
    this.together = oneWriter.map(writer -> new Together(dsl, writer));
  }

  /** The database at this address, migrated, with the credentials that the address itself carries. */
  public static Database open(DatabaseUrl url) {
    return open(url, Optional.empty(), Optional.empty());
  }

  /**
   * The database at this address, migrated; user and password where the server asks for them.
   *
   * @throws CannotOpen if it cannot be opened; the message says why
   */
  public static Database open(DatabaseUrl url, Optional<String> user, Optional<String> password) {
    HikariConfig config = new HikariConfig();
    config.setJdbcUrl(url.jdbc());
    user.ifPresent(config::setUsername);
    password.ifPresent(config::setPassword);
    config.setMaximumPoolSize(CONNECTIONS);
    config.setPoolName("ferrule");
    config.setConnectionTimeout(CONNECTION_WITHIN.toMillis());
    config.setValidationTimeout(ANSWER_WITHIN.toMillis());
    config.setExceptionOverride(new DeadConnections());
    HikariDataSource pool = connect(url, config);
    try {
      Migrations.run(url, migrations(pool));
      Optional<OneWriter> oneWriter =
          url.dialect() == SQLDialect.H2 ? Optional.of(new OneWriter()) : Optional.empty();
      SchemaConnections connections = SchemaConnections.of(pool, new Turns(CONNECTIONS), currentSchema(pool));
      return new Database(url, pool, true, connections, oneWriter);
    } catch (RuntimeException e) {
      pool.close();
      throw e;
    }
  }

  private static FluentConfiguration migrations(HikariDataSource pool) {
    return Migrations.configured().dataSource(pool);
  }

  /**
   * Makes the tables of a schema as a version of the program had them, and no newer ones.
   *
   * @param schema the schema, which is made as needed; empty for the one that the address leads to
   * @param version of the last migration to run
   * @throws CannotOpen if that cannot be done; the message says why
   */
  public static void migrateTo(
      DatabaseUrl url, Optional<String> user, Optional<String> password, Optional<String> schema, String version) {
    FluentConfiguration configuration = Migrations.configured()
        .dataSource(url.jdbc(), user.orElse(null), password.orElse(null))
        .target(version);
    schema.ifPresent(name -> configuration.schemas(name).defaultSchema(name));
    Migrations.run(url, configuration);
  }

  private static String currentSchema(HikariDataSource pool) {
    try (Connection connection = pool.getConnection()) {
      return Objects.requireNonNull(connection.getSchema(), "the address leads to a schema: the migrations ran in it");
    } catch (SQLException e) {
      throw new DataAccessException("no connection to the database: " + e.getMessage(), e);
    }
  }

  /**
   * The tables in another schema of this database, over the same connections, made and migrated as needed. Closing it
   * closes nothing.
   *
   * @param name lower-case letters, digits and underscores, starting with a letter
   * @throws IllegalArgumentException for any other name
   */
  public Database schema(String name) {
    if (!SCHEMA.matcher(name).matches()) {
      throw new IllegalArgumentException(
          "a schema is named by lower-case letters, digits and underscores; given: " + name);
    }
    dsl.createSchemaIfNotExists(name).execute();
    // connections of its own: Flyway sets their schema itself, and what it leaves them at is nobody's business
    Migrations.run(
        url,
        migrations(pool)
            .dataSource(pool.getJdbcUrl(), pool.getUsername(), pool.getPassword())
            .schemas(name)
            .defaultSchema(name)
            .createSchemas(false));
    return new Database(url, pool, false, connections.at(name), oneWriter);
  }

  /** The schema that its tables are in. */
  public String schema() {
    return connections.schema();
  }

  private static HikariDataSource connect(DatabaseUrl url, HikariConfig config) {
    try {
      return new HikariDataSource(config);
    } catch (RuntimeException e) {
      throw CannotOpen.of(url, e);
    }
  }

  /** Tells these figures of the pool: connections in use, and how many wait for one. */
  public void measuredBy(MeterRegistry figures) {
    pool.setMetricRegistry(figures);
    Gauge.builder("ferrule.database.waiting", connections, SchemaConnections::waiting)
        .description("How many wait for a connection to the database")
        .register(figures);
  }

  /** Queries outside a transaction, each on its own. */
  public DSLContext dsl() {
    return dsl;
  }

  /** What the work returns, after all that it wrote is committed; if it throws, nothing of it is kept. */
  public <T> T inTransaction(Function<DSLContext, T> work) {
    Supplier<T> transaction = () -> dsl.transactionResult(configuration -> work.apply(configuration.dsl()));
    return oneWriter.map(writer -> writer.alone(transaction)).orElseGet(transaction);
  }

  /**
   * As {@link #inTransaction}, for small work that hundreds come with at once: where only one can write at a time, what
   * waits is committed together. Not for use within another transaction.
   *
   * @param work which may be done twice, in the end in a transaction of its own; the first time nothing of it is kept, or it
   *     finds that all of it is
   */
  public <T> T besideOthers(Function<DSLContext, T> work) {
    return together.map(all -> all.commit(work)).orElseGet(() -> inTransaction(work));
  }

  /**
   * What the work returns, whose queries all see the records as they were at one moment. It waits for no writer and no
   * writer for it.
   *
   * @throws IllegalStateException from the work if it writes or locks rows
   */
  public <T> T reading(Function<DSLContext, T> work) {
    return dsl.connectionResult(
        connection -> {
          // the pool puts back what is set here, after a rollback
          connection.setReadOnly(true);
          connection.setTransactionIsolation(snapshot());
          connection.setAutoCommit(false);
          return work.apply(dsl.configuration().derive(connection).derive(ReadsOnly.LISTENER).dsl());
        });
  }

  // H2's own "repeatable read" takes its snapshot table by table
  private int snapshot() {
    return url.dialect() == SQLDialect.H2 ? Constants.TRANSACTION_SNAPSHOT : Connection.TRANSACTION_REPEATABLE_READ;
  }

  /** Does the work and commits it as a whole; if it throws, nothing of it is kept. */
  public void transact(Consumer<DSLContext> work) {
    inTransaction(
        transaction -> {
          work.accept(transaction);
          return true;
        });
  }

  @Override
  public void close() {
    if (ownsPool) {
      pool.close();
    }
  }
}
