"""An S3-compatible server, `moto`: prints its address, serves until its input ends."""

import json
import sys

import boto3
from moto.server import ThreadedMotoServer

server = ThreadedMotoServer(ip_address="127.0.0.1", port=0, verbose=False)
server.start()
host, port = server.get_host_and_port()
address = f"http://{host}:{port}"
boto3.client(
    "s3",
    endpoint_url=address,
    region_name="us-east-1",
    aws_access_key_id="made-up",
    aws_secret_access_key="made-up",
).create_bucket(Bucket="record-files")
print(json.dumps({"address": address, "bucket": "record-files"}), flush=True)
sys.stdin.read()
server.stop()
