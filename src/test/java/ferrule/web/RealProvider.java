package ferrule.web;

import com.nimbusds.jose.jwk.JWKSet;
import com.nimbusds.jose.jwk.RSAKey;
import com.nimbusds.jose.jwk.source.ImmutableJWKSet;
import com.nimbusds.jose.jwk.source.JWKSource;
import com.nimbusds.jose.proc.SecurityContext;
import jakarta.servlet.DispatcherType;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.NoSuchAlgorithmException;
import java.security.interfaces.RSAPrivateKey;
import java.security.interfaces.RSAPublicKey;
import java.util.EnumSet;
import java.util.UUID;
import org.eclipse.jetty.ee10.servlet.DefaultServlet;
import org.eclipse.jetty.ee10.servlet.FilterHolder;
import org.eclipse.jetty.ee10.servlet.ServletContextHandler;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.security.config.Customizer;
import org.springframework.security.config.annotation.web.builders.HttpSecurity;
import org.springframework.security.config.annotation.web.configuration.EnableWebSecurity;
import org.springframework.security.core.userdetails.User;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.oauth2.core.AuthorizationGrantType;
import org.springframework.security.oauth2.core.ClientAuthenticationMethod;
import org.springframework.security.oauth2.jwt.JwtDecoder;
import org.springframework.security.oauth2.server.authorization.client.InMemoryRegisteredClientRepository;
import org.springframework.security.oauth2.server.authorization.client.RegisteredClient;
import org.springframework.security.oauth2.server.authorization.client.RegisteredClientRepository;
import org.springframework.security.oauth2.server.authorization.config.annotation.web.configuration.OAuth2AuthorizationServerConfiguration;
import org.springframework.security.oauth2.server.authorization.config.annotation.web.configurers.OAuth2AuthorizationServerConfigurer;
import org.springframework.security.oauth2.server.authorization.settings.AuthorizationServerSettings;
import org.springframework.security.oauth2.server.authorization.settings.ClientSettings;
import org.springframework.security.oauth2.server.authorization.token.JwtEncodingContext;
import org.springframework.security.oauth2.server.authorization.token.OAuth2TokenCustomizer;
import org.springframework.security.provisioning.InMemoryUserDetailsManager;
import org.springframework.security.web.SecurityFilterChain;
import org.springframework.web.context.ContextLoaderListener;
import org.springframework.web.context.support.AnnotationConfigWebApplicationContext;
import org.springframework.web.filter.DelegatingFilterProxy;

/**
 * A real OpenID provider on a free port of this machine, made of Spring Authorization Server: one user, "wren at the
 * school", with the password "school password", and one client, which must use PKCE.
 */
final class RealProvider implements AutoCloseable {

  static final String CLIENT = "ferrule";
  static final String SECRET = "a secret of the test";

  private final Server server = new Server();
  private final ServerConnector connector = new ServerConnector(server);

  private RealProvider() {}

  /** Starts one that sends browsers back to this address only. */
  static RealProvider start(String back) {
    RealProvider provider = new RealProvider();
    try {
      provider.connector.setHost("localhost");
      provider.server.addConnector(provider.connector);
      provider.connector.open(); // so that the port is known
      AnnotationConfigWebApplicationContext spring = new AnnotationConfigWebApplicationContext();
      spring.register(Settings.class);
      spring.addBeanFactoryPostProcessor(
          beans -> {
            beans.registerSingleton("issuer", AuthorizationServerSettings.builder().issuer(provider.issuer()).build());
            beans.registerSingleton("clients", new InMemoryRegisteredClientRepository(client(back)));
          });
      ServletContextHandler context = new ServletContextHandler("/", ServletContextHandler.SESSIONS);
      context.addEventListener(new ContextLoaderListener(spring));
      context.addFilter(
          new FilterHolder(new DelegatingFilterProxy("springSecurityFilterChain")), "/*", EnumSet.of(DispatcherType.REQUEST));
      context.addServlet(DefaultServlet.class, "/");
      context.setBaseResourceAsString(System.getProperty("java.io.tmpdir"));
      provider.server.setHandler(context);
      provider.server.start();
      return provider;
    } catch (Exception e) {
      throw new IllegalStateException("the provider does not start", e);
    }
  }

  /** Its address. */
  String issuer() {
    return "http://localhost:" + connector.getLocalPort();
  }

  private static RegisteredClient client(String back) {
    return RegisteredClient.withId(UUID.randomUUID().toString())
        .clientId(CLIENT)
        .clientSecret("{noop}" + SECRET)
        .clientAuthenticationMethod(ClientAuthenticationMethod.CLIENT_SECRET_BASIC)
        .authorizationGrantType(AuthorizationGrantType.AUTHORIZATION_CODE)
        .redirectUri(back)
        .scope("openid")
        .scope("profile")
        .scope("email")
        .clientSettings(ClientSettings.builder().requireProofKey(true).build())
        .build();
  }

  @Override
  public void close() {
    try {
      server.stop();
    } catch (Exception e) {
      throw new IllegalStateException("the provider does not stop", e);
    }
  }

  /** What Spring puts together. */
  @Configuration
  @EnableWebSecurity
  static class Settings {

    @Bean
    SecurityFilterChain chain(HttpSecurity http) throws Exception {
      http.with(OAuth2AuthorizationServerConfigurer.authorizationServer(), server -> server.oidc(Customizer.withDefaults()))
          .authorizeHttpRequests(requests -> requests.anyRequest().authenticated())
          .formLogin(Customizer.withDefaults());
      return http.build();
    }

    @Bean
    UserDetailsService users() {
      return new InMemoryUserDetailsManager(
          User.withUsername("wren at the school").password("{noop}school password").roles("USER").build());
    }

    @Bean
    JWKSource<SecurityContext> keys() throws NoSuchAlgorithmException {
      KeyPairGenerator generator = KeyPairGenerator.getInstance("RSA");
      generator.initialize(2048);
      KeyPair pair = generator.generateKeyPair();
      RSAKey key =
          new RSAKey.Builder((RSAPublicKey) pair.getPublic()).privateKey((RSAPrivateKey) pair.getPrivate()).keyID("1").build();
      return new ImmutableJWKSet<>(new JWKSet(key));
    }

    @Bean
    JwtDecoder decoder(JWKSource<SecurityContext> keys) {
      return OAuth2AuthorizationServerConfiguration.jwtDecoder(keys);
    }

    @Bean
    OAuth2TokenCustomizer<JwtEncodingContext> claims() {
      return token -> token.getClaims().claim("preferred_username", "Wren");
    }

    @Bean
    String bound(RegisteredClientRepository clients, AuthorizationServerSettings settings) {
      return settings.getIssuer(); // both are registered before this is made
    }
  }
}
