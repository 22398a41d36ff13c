// `stanch serve`: the ward server.
#include <memory>
#include <string>

#include "cli/command.hpp"
#include "server/server.hpp"

namespace stanch::cli {

void add_serve_command(CLI::App& app, int& exit_code) {
  struct Options {
    server::ServeOptions serve;
    std::string tls = "off";
    bool verify = false;
  };
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("serve", "the ward server: keeps the record and serves it to phones");
  command->add_option("--data", options->serve.folder, "data folder; made when it is not there")
      ->envname("STANCH_DATA")
      ->required();
  command->add_option("--port", options->serve.port, "port; 0 takes any free one; default 8750")
      ->envname("STANCH_PORT");
  command->add_option("--bind", options->serve.address, "address to listen on; default 127.0.0.1; a ward uses 0.0.0.0")
      ->envname("STANCH_BIND");
  command
      ->add_option(
          "--tls", options->tls,
          "auto: speak https with a certificate of the ward's own authority, made in the data folder at the first "
          "start; off: plain http, for this machine alone or behind a proxy; default off")
      ->check(CLI::IsMember({"auto", "off"}))
      ->envname("STANCH_TLS");
  command
      ->add_option("--hub", options->serve.hub.address,
                   "address of another stanch serve that this ward is kept in step with, e.g. https://hub.example:8750")
      ->envname("STANCH_HUB");
  command
      ->add_option("--hub-code", options->serve.hub.code, "the six digits that the hub shows; for the first time only")
      ->envname("STANCH_HUB_CODE");
  command
      ->add_option("--hub-authority", options->serve.hub.authority,
                   "file with the authority of the hub's certificate, where it is the hub's own (--tls auto)")
      ->envname("STANCH_HUB_AUTHORITY");
  command->add_flag("--practice", options->serve.practice, "an invented ward for practice, in a folder of its own");
  command->add_flag("--verify", options->verify, "check that every entry is as it was accepted, and end");
  command->callback([options, &exit_code] {
    options->serve.tls = options->tls == "auto";
    exit_code = options->verify ? server::verify(options->serve) : server::serve(options->serve);
  });
}

}  // namespace stanch::cli
