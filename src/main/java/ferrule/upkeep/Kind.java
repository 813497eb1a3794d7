package ferrule.upkeep;

import java.math.BigDecimal;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Base64;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/**
 * What a column holds, whatever the database calls it; a value is written as text that is the same for every database,
 * and read back without loss: instants in UTC to the microsecond, fractions by their shortest exact decimals, bytes in
 * base64.
 */
enum Kind {
  TEXT(Types.VARCHAR),
  WHOLE(Types.BIGINT),
  FRACTION(Types.DOUBLE),
  DECIMAL(Types.NUMERIC),
  TRUTH(Types.BOOLEAN),
  ID(Types.OTHER),
  INSTANT(Types.TIMESTAMP_WITH_TIMEZONE),
  LOCAL(Types.TIMESTAMP),
  DAY(Types.DATE),
  TIME(Types.TIME),
  BYTES(Types.VARBINARY);

  private final int jdbcType;

  Kind(int jdbcType) {
    this.jdbcType = jdbcType;
  }

  /**
   * What a type of H2 or PostgreSQL holds.
   *
   * @throws IllegalStateException for a type that no table has had so far: it needs a place here
   */
  static Kind of(String typeName) {
    return switch (typeName.toLowerCase(Locale.ROOT).replaceFirst("\\(.*", "").strip()) {
      case "text", "varchar", "character varying", "character large object", "clob", "bpchar", "character" -> TEXT;
      case "int2", "int4", "int8", "smallint", "integer", "bigint", "int", "tinyint", "serial", "bigserial" -> WHOLE;
      case "float4", "float8", "real", "double precision", "double" -> FRACTION;
      case "numeric", "decimal", "decfloat" -> DECIMAL;
      case "bool", "boolean" -> TRUTH;
      case "uuid" -> ID;
      case "timestamptz", "timestamp with time zone" -> INSTANT;
      case "timestamp", "timestamp without time zone" -> LOCAL;
      case "date" -> DAY;
      case "time", "time without time zone" -> TIME;
      case "bytea", "binary varying", "varbinary", "binary large object", "blob" -> BYTES;
      default -> throw new IllegalStateException("a column of the type " + typeName + " cannot be copied");
    };
  }

  /** The value in this column of the present row; empty if it is null. */
  Optional<String> read(ResultSet row, int column) throws SQLException {
    Object value = switch (this) {
      case TEXT -> row.getString(column);
      case WHOLE -> row.getLong(column);
      case FRACTION -> row.getDouble(column);
      case DECIMAL -> Optional.ofNullable(row.getBigDecimal(column))
          .map(d -> d.stripTrailingZeros().toPlainString()).orElse(null);
      case TRUTH -> row.getBoolean(column);
      case ID -> row.getObject(column, UUID.class);
      case INSTANT -> Optional.ofNullable(row.getObject(column, OffsetDateTime.class))
          .map(OffsetDateTime::toInstant).orElse(null);
      case LOCAL -> row.getObject(column, LocalDateTime.class);
      case DAY -> row.getObject(column, LocalDate.class);
      case TIME -> row.getObject(column, LocalTime.class);
      case BYTES -> Optional.ofNullable(row.getBytes(column)).map(Base64.getEncoder()::encodeToString).orElse(null);
    };
    return row.wasNull() ? Optional.empty() : Optional.ofNullable(value).map(Object::toString);
  }

  /** Sets a parameter to a value that was read. */
  void write(PreparedStatement statement, int parameter, Optional<String> value) throws SQLException {
    if (value.isEmpty()) {
      statement.setNull(parameter, jdbcType);
      return;
    }
    String text = value.get();
    switch (this) {
      case TEXT -> statement.setString(parameter, text);
      case WHOLE -> statement.setLong(parameter, Long.parseLong(text));
      case FRACTION -> statement.setDouble(parameter, Double.parseDouble(text));
      case DECIMAL -> statement.setBigDecimal(parameter, new BigDecimal(text));
      case TRUTH -> statement.setBoolean(parameter, Boolean.parseBoolean(text));
      case ID -> statement.setObject(parameter, UUID.fromString(text));
      case INSTANT -> statement.setObject(parameter, Instant.parse(text).atOffset(ZoneOffset.UTC));
      case LOCAL -> statement.setObject(parameter, LocalDateTime.parse(text));
      case DAY -> statement.setObject(parameter, LocalDate.parse(text));
      case TIME -> statement.setObject(parameter, LocalTime.parse(text));
      case BYTES -> statement.setBytes(parameter, Base64.getDecoder().decode(text));
    }
  }
}
