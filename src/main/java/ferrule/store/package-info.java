/**
 * The database: data source, migrations and transactions; {@code ferrule.store.jooq} is generated from the migrations
 * at build time.
 *
 * <p>It knows nothing of any feature. Only classes named {@code …Store} use it. Start at
 * {@link ferrule.store.Database}.
 */
package ferrule.store;
